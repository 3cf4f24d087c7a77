"""Addresses under /api/."""

from django.urls import path

from api import areas, days, documents, houses, inspections, jobs, notices, planning, schema, shop

urlpatterns = [
    path("schema", schema.Schema.as_view(), name="api-schema"),
    path("docs", schema.Docs.as_view(), name="api-docs"),
    path("jobs", jobs.Jobs.as_view(), name="api-jobs"),
    path("jobs/<uuid:job_id>", jobs.OneJob.as_view(), name="api-job"),
    path("jobs/<uuid:job_id>/moves", jobs.JobMoves.as_view(), name="api-moves"),
    path("jobs/<uuid:job_id>/permit", jobs.JobPermit.as_view(), name="api-permit"),
    path("jobs/<uuid:job_id>/insulation", jobs.JobInsulation.as_view(), name="api-insulation"),
    path("jobs/<uuid:job_id>/milestones", jobs.JobMilestones.as_view(), name="api-milestones"),
    path("jobs/<uuid:job_id>/trades", jobs.JobTrades.as_view(), name="api-trades"),
    path("jobs/<uuid:job_id>/revisions", houses.JobRevisions.as_view(), name="api-revisions"),
    path("jobs/<uuid:job_id>/house", houses.JobHouse.as_view(), name="api-house"),
    path(
        "jobs/<uuid:job_id>/site-changes", houses.JobSiteChanges.as_view(), name="api-site-changes"
    ),
    path(
        "site-changes/<uuid:site_change_id>/answer",
        houses.SiteChangeAnswers.as_view(),
        name="api-site-change",
    ),
    path("jobs/<uuid:job_id>/trial", houses.JobTrial.as_view(), name="api-trial"),
    path("jobs/<uuid:job_id>/proposals", houses.JobProposals.as_view(), name="api-proposals"),
    path("jobs/<uuid:job_id>/findings", houses.JobFindings.as_view(), name="api-findings"),
    path("jobs/<uuid:job_id>/items", houses.JobItems.as_view(), name="api-items"),
    path("jobs/<uuid:job_id>/observations", houses.JobWalk.as_view(), name="api-walk"),
    path(
        "jobs/<uuid:job_id>/inspections",
        inspections.JobInspections.as_view(),
        name="api-inspections",
    ),
    path(
        "jobs/<uuid:job_id>/earliest-inspection",
        inspections.EarliestInspection.as_view(),
        name="api-earliest",
    ),
    path(
        "jobs/<uuid:job_id>/deficiencies",
        inspections.JobDeficiencies.as_view(),
        name="api-deficiencies",
    ),
    path("jobs/<uuid:job_id>/record", inspections.JobRecord.as_view(), name="api-record"),
    path("jobs/<uuid:job_id>/links", areas.JobLinks.as_view(), name="api-links"),
    path("jobs/<uuid:job_id>/place", planning.JobPlace.as_view(), name="api-place"),
    path("jobs/<uuid:job_id>/promises", planning.JobPromises.as_view(), name="api-promises"),
    path("jobs/<uuid:job_id>/tasks", planning.JobTasks.as_view(), name="api-tasks"),
    path("jobs/<uuid:job_id>/work", days.JobWork.as_view(), name="api-work"),
    path(
        "jobs/<uuid:job_id>/checklist.pdf",
        documents.JobChecklistSheet.as_view(),
        name="api-checklist-pdf",
    ),
    path(
        "jobs/<uuid:job_id>/power/<slug:which>.pdf",
        documents.JobPowerSheet.as_view(),
        name="api-power-pdf",
    ),
    path(
        "jobs/<uuid:job_id>/sheets/<slug:which>.pdf",
        documents.JobWorkSheet.as_view(),
        name="api-work-pdf",
    ),
    path("jobs/<uuid:job_id>/packs", documents.JobPacks.as_view(), name="api-packs"),
    path("packs/<uuid:pack_id>", documents.OnePack.as_view(), name="api-pack"),
    path("packs/<uuid:pack_id>/file", documents.PackFile.as_view(), name="api-pack-file"),
    path("links/<uuid:link_id>/withdrawal", areas.LinkWithdrawal.as_view(), name="api-link-gone"),
    path("areas/<uuid:area_id>/timeline", areas.AreaTimeline.as_view(), name="api-timeline"),
    path(
        "areas/<uuid:area_id>/acceptances", areas.AreaAcceptances.as_view(), name="api-acceptances"
    ),
    path(
        "areas/<uuid:area_id>/cover-releases",
        areas.AreaCoverReleases.as_view(),
        name="api-cover-releases",
    ),
    path("areas/<uuid:area_id>/withdrawal", areas.AreaWithdrawal.as_view(), name="api-withdrawal"),
    path(
        "cover-releases/<uuid:cover_release_id>/answer",
        areas.CoverReleaseAnswer.as_view(),
        name="api-cover-release-answer",
    ),
    path(
        "inspections/<uuid:inspection_id>/events",
        inspections.InspectionEvents.as_view(),
        name="api-inspection-events",
    ),
    path(
        "inspections/<uuid:inspection_id>/answer",
        inspections.InspectionAnswer.as_view(),
        name="api-inspection-answer",
    ),
    path(
        "deficiencies/<uuid:deficiency_id>/corrected",
        inspections.DeficiencyCorrected.as_view(),
        name="api-corrected",
    ),
    path(
        "items/<uuid:item_id>/observations",
        houses.ItemObservations.as_view(),
        name="api-observations",
    ),
    path(
        "items/<uuid:item_id>/photographs",
        houses.ItemPhotographs.as_view(),
        name="api-photographs",
    ),
    path("plans", days.Plans.as_view(), name="api-plans"),
    path("plans/<uuid:plan_id>", days.OnePlan.as_view(), name="api-plan"),
    path("plans/<uuid:plan_id>/told", days.PlanTold.as_view(), name="api-plan-told"),
    path("crews", days.Crews.as_view(), name="api-crews"),
    path("crews/<uuid:crew_id>", planning.OneCrew.as_view(), name="api-crew"),
    path("crews/<uuid:crew_id>/day", days.CrewDay.as_view(), name="api-crew-day"),
    path("absences", days.Absences.as_view(), name="api-absences"),
    path("builders", shop.Builders.as_view(), name="api-builders"),
    path("authorities", shop.Authorities.as_view(), name="api-authorities"),
    path("authorities/<uuid:authority_id>", shop.OneAuthority.as_view(), name="api-authority"),
    path("people", shop.ShopPeople.as_view(), name="api-people"),
    path("people/<uuid:membership_id>", shop.OneMember.as_view(), name="api-member"),
    path("invitations", shop.Invitations.as_view(), name="api-invitations"),
    path("invitations/<uuid:invitation_id>", shop.OneInvitation.as_view(), name="api-invitation"),
    path("rulebooks", shop.Rulebooks.as_view(), name="api-rulebooks"),
    path("amendments", shop.Amendments.as_view(), name="api-amendments"),
    path("figures", shop.Figures.as_view(), name="api-figures"),
    path("changes", shop.Changes.as_view(), name="api-changes"),
    path("notices", notices.Notices.as_view(), name="api-notices"),
    path("notices/<uuid:notice_id>/seen", notices.NoticeSeen.as_view(), name="api-notice-seen"),
    path("addresses", notices.Addresses.as_view(), name="api-addresses"),
    path("addresses/<uuid:address_id>", notices.OneAddress.as_view(), name="api-address"),
]

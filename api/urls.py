"""Addresses under /api/."""

from django.urls import path
from drf_spectacular.views import SpectacularAPIView

from api import days, views, visits

urlpatterns = [
    path("schema", SpectacularAPIView.as_view(), name="api-schema"),
    path("jobs", views.JobList.as_view(), name="api-jobs"),
    path("jobs/<uuid:job_id>", views.JobDetail.as_view(), name="api-job"),
    path("jobs/<uuid:job_id>/items", views.JobItems.as_view(), name="api-items"),
    path("jobs/<uuid:job_id>/visits", visits.JobVisits.as_view(), name="api-visits"),
    path("jobs/<uuid:job_id>/earliest-visit", visits.EarliestVisit.as_view(), name="api-earliest"),
    path(
        "jobs/<uuid:job_id>/deficiencies",
        visits.JobDeficiencies.as_view(),
        name="api-deficiencies",
    ),
    path("jobs/<uuid:job_id>/record", visits.JobRecord.as_view(), name="api-record"),
    path("visits/<uuid:visit_id>/events", visits.VisitEvents.as_view(), name="api-visit-events"),
    path("visits/<uuid:visit_id>/answer", visits.VisitAnswer.as_view(), name="api-visit-answer"),
    path(
        "deficiencies/<uuid:deficiency_id>/mended",
        visits.DeficiencyMended.as_view(),
        name="api-mended",
    ),
    path(
        "items/<uuid:item_id>/observations",
        views.ItemObservations.as_view(),
        name="api-observations",
    ),
    path("areas/<uuid:area_id>/clearances", views.AreaClearances.as_view(), name="api-clearances"),
    path("plans", days.Plans.as_view(), name="api-plans"),
    path("plans/<uuid:plan_id>", days.OnePlan.as_view(), name="api-plan"),
    path("plans/<uuid:plan_id>/told", days.PlanTold.as_view(), name="api-plan-told"),
    path("crews", days.Crews.as_view(), name="api-crews"),
    path("crews/<uuid:crew_id>/day", days.CrewDay.as_view(), name="api-crew-day"),
    path("absences", days.Absences.as_view(), name="api-absences"),
    path("jobs/<uuid:job_id>/work", days.JobWork.as_view(), name="api-work"),
]

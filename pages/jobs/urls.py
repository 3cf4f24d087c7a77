"""Addresses of the pages of jobs."""

from django.urls import path

from pages.jobs import (
    board,
    covers,
    drawing,
    history,
    house_files,
    inspections,
    items,
    job_forms,
    job_list,
    job_page,
    notices,
    permits,
    sheets,
    trades,
)

urlpatterns = [
    path("", job_list.jobs, name="jobs"),
    path("jobs/new/", job_forms.job_new, name="job-new"),
    path("jobs/<uuid:job_id>/", job_page.job, name="job"),
    path("jobs/<uuid:job_id>/edit/", job_forms.job_edit, name="job-edit"),
    path("jobs/<uuid:job_id>/checklist.pdf", job_page.checklist_sheet, name="checklist-pdf"),
    path("jobs/<uuid:job_id>/drawing/", drawing.drawing, name="drawing"),
    path("jobs/<uuid:job_id>/draw/", board.draw, name="draw"),
    path("jobs/<uuid:job_id>/draw/model/", board.model, name="draw-model"),
    path("jobs/<uuid:job_id>/draw/look/", board.look, name="draw-look"),
    path("jobs/<uuid:job_id>/draw/finish/", board.board_finish, name="draw-finish"),
    path("jobs/<uuid:job_id>/house-file/", house_files.house_upload, name="house-upload"),
    path("jobs/<uuid:job_id>/house.<str:form>", house_files.house_file, name="house-file"),
    path("jobs/<uuid:job_id>/power/<str:which>/", sheets.load_sheet, name="load-sheet"),
    path(
        "jobs/<uuid:job_id>/power/<str:which>.json", sheets.load_sheet_json, name="load-sheet-json"
    ),
    path("jobs/<uuid:job_id>/power/<str:which>.pdf", sheets.load_sheet_pdf, name="load-sheet-pdf"),
    path("jobs/<uuid:job_id>/sheets/<slug:which>/", sheets.work_sheet, name="work-sheet"),
    path(
        "jobs/<uuid:job_id>/sheets/<slug:which>.pdf", sheets.work_sheet_pdf, name="work-sheet-pdf"
    ),
    path("jobs/<uuid:job_id>/packs/", sheets.pack_new, name="pack-new"),
    path("packs/<uuid:pack_id>/", sheets.pack, name="pack"),
    path("packs/<uuid:pack_id>.pdf", sheets.pack_pdf, name="pack-pdf"),
    path("jobs/<uuid:job_id>/record/", job_page.record, name="record"),
    path("jobs/<uuid:job_id>/permit/", permits.permit, name="permit"),
    path("jobs/<uuid:job_id>/permit/extend/", permits.permit_extension, name="permit-extend"),
    path("jobs/<uuid:job_id>/permit/day/", permits.permit_day, name="permit-day"),
    path("jobs/<uuid:job_id>/milestone/", permits.milestone, name="milestone"),
    path("jobs/<uuid:job_id>/ask/", inspections.ask_inspection, name="ask"),
    path("jobs/<uuid:job_id>/insulation/", trades.insulation, name="insulation"),
    path("site-changes/<uuid:site_change_id>/", inspections.settle_site_change, name="site-change"),
    path("jobs/<uuid:job_id>/trade/", trades.trade, name="trade"),
    path("inspections/<uuid:inspection_id>/happening/", inspections.happening, name="happening"),
    path("inspections/<uuid:inspection_id>/answer/", inspections.answer, name="answer"),
    path("deficiencies/<uuid:deficiency_id>/corrected/", inspections.corrected, name="corrected"),
    path(
        "deficiencies/<uuid:deficiency_id>/photograph/",
        history.keep_deficiency_photograph,
        name="deficiency-photograph",
    ),
    path(
        "deficiency-photographs/<uuid:photograph_id>/",
        history.deficiency_photograph_file,
        name="deficiency-photograph-file",
    ),
    path("areas/<uuid:area_id>/timeline/", history.timeline, name="timeline"),
    path("items/<uuid:item_id>/", items.item, name="item"),
    path("items/<uuid:item_id>/observe/", items.observe, name="observe"),
    path("items/<uuid:item_id>/photograph/", items.keep_item_photograph, name="photograph"),
    path("photographs/<uuid:photograph_id>/", items.item_photograph_file, name="photograph-file"),
    path("areas/<uuid:area_id>/release/", covers.release_area, name="release"),
    path("areas/<uuid:area_id>/withdraw/", covers.withdraw_release, name="withdraw"),
    path(
        "withdrawals/<uuid:cover_release_id>/answer/",
        covers.answer_withdrawal,
        name="withdrawal-answer",
    ),
    path("observations/<uuid:observation_id>/undo/", items.undo, name="undo"),
    path("notices/<uuid:notice_id>/seen/", notices.notice_seen, name="seen"),
    path("jobs/<uuid:job_id>/notices/", notices.of_job, name="job-notices"),
]

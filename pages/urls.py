"""Addresses of the pages."""

from django.contrib.auth.views import LoginView, LogoutView
from django.urls import path

from pages import authorities, history, load_sheets, office, views

urlpatterns = [
    path("sign-in/", LoginView.as_view(template_name="sign_in.html"), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("", views.jobs, name="jobs"),
    path("jobs/<uuid:job_id>/", views.job, name="job"),
    path("jobs/<uuid:job_id>/checklist.pdf", views.checklist_sheet, name="checklist-pdf"),
    path("jobs/<uuid:job_id>/power/<str:which>/", load_sheets.load_sheet, name="load-sheet"),
    path(
        "jobs/<uuid:job_id>/power/<str:which>.json",
        load_sheets.load_sheet_json,
        name="load-sheet-json",
    ),
    path(
        "jobs/<uuid:job_id>/power/<str:which>.pdf",
        load_sheets.load_sheet_pdf,
        name="load-sheet-pdf",
    ),
    path("jobs/<uuid:job_id>/record/", views.record, name="record"),
    path("jobs/<uuid:job_id>/permit/", office.permit, name="permit"),
    path("jobs/<uuid:job_id>/milestone/", office.milestone, name="milestone"),
    path("jobs/<uuid:job_id>/ask/", office.ask, name="ask"),
    path("jobs/<uuid:job_id>/trade/", office.trade, name="trade"),
    path("visits/<uuid:visit_id>/happening/", office.happening, name="happening"),
    path("visits/<uuid:visit_id>/answer/", office.answer, name="answer"),
    path("deficiencies/<uuid:deficiency_id>/mended/", office.mended, name="mended"),
    path(
        "deficiencies/<uuid:deficiency_id>/photograph/",
        history.photograph,
        name="deficiency-photograph",
    ),
    path(
        "deficiency-photographs/<uuid:photograph_id>/",
        history.photograph_file,
        name="deficiency-photograph-file",
    ),
    path("areas/<uuid:area_id>/timeline/", history.timeline, name="timeline"),
    path("called/", history.called, name="called"),
    path("items/<uuid:item_id>/observe/", views.observe, name="observe"),
    path("items/<uuid:item_id>/photograph/", views.photograph, name="photograph"),
    path("photographs/<uuid:photograph_id>/", views.photograph_file, name="photograph-file"),
    path("areas/<uuid:area_id>/clear/", views.clear, name="clear"),
    path("areas/<uuid:area_id>/withdraw/", views.withdraw, name="withdraw"),
    path("notices/<uuid:notice_id>/seen/", views.seen, name="seen"),
    path("authorities/", authorities.authorities, name="authorities"),
    path("authorities/<uuid:authority_id>/", authorities.authority, name="authority"),
    path("healthy", views.healthy, name="healthy"),
]

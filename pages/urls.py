"""Addresses of the pages."""

from django.contrib.auth.views import LoginView, LogoutView
from django.urls import path

from pages import views

urlpatterns = [
    path("sign-in/", LoginView.as_view(template_name="sign_in.html"), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("", views.jobs, name="jobs"),
    path("jobs/<uuid:job_id>/", views.job, name="job"),
    path("jobs/<uuid:job_id>/checklist.pdf", views.checklist_sheet, name="checklist-pdf"),
    path("items/<uuid:item_id>/observe/", views.observe, name="observe"),
    path("areas/<uuid:area_id>/clear/", views.clear, name="clear"),
    path("areas/<uuid:area_id>/withdraw/", views.withdraw, name="withdraw"),
    path("notices/<uuid:notice_id>/seen/", views.seen, name="seen"),
    path("healthy", views.healthy, name="healthy"),
]

"""Addresses of the pages, room by room."""

from django.urls import include, path

urlpatterns = [
    path("", include("pages.account.urls")),
    path("", include("pages.jobs.urls")),
    path("", include("pages.office.urls")),
    path("", include("pages.open.urls")),
]

"""The addresses of both faces."""

from django.urls import include, path

urlpatterns = [
    path("api/", include("api.urls")),
    path("walk/", include("pages.walk_urls")),
    path("", include("pages.notice_urls")),
    path("", include("pages.urls")),
]

"""The addresses of both faces."""

from django.urls import include, path

from config.contact import security_txt
from config.observe import metrics, ready

urlpatterns = [
    path("api/", include("api.urls")),
    path("walk/", include("pages.jobs.walk_urls")),
    path("metrics", metrics, name="metrics"),
    path("ready", ready, name="ready"),
    path(".well-known/security.txt", security_txt, name="security-txt"),
    path("", include("pages.urls")),
]

handler400 = "config.faults.bad_request"
handler404 = "config.faults.not_found"
handler500 = "config.faults.server_error"

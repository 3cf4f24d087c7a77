"""Addresses of the walk; the service worker has all of them in its scope."""

from django.urls import path

from pages.jobs import as_built, corrections, pulled, walk

urlpatterns = [
    path("", walk.walks, name="walks"),
    path("worker.js", walk.worker, name="walk-worker"),
    path("<uuid:job_id>/", walk.walk_page, name="walk"),
    path("<uuid:job_id>/data", walk.data, name="walk-data"),
    path("<uuid:job_id>/sync", walk.sync, name="walk-sync"),
    path("<uuid:job_id>/site-change", walk.walk_site_change, name="walk-site-change"),
    path("<uuid:job_id>/fix", corrections.walk_fix, name="walk-fix"),
    path("<uuid:job_id>/as-built", as_built.walk_as_built, name="walk-as-built"),
    path("<uuid:job_id>/pulled", pulled.walk_pulled, name="walk-pulled"),
    path("<uuid:job_id>/photograph", walk.keep_walk_photograph, name="walk-photograph"),
]

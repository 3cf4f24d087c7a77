"""Addresses under /api/."""

from django.urls import path
from drf_spectacular.views import SpectacularAPIView

from api import views

urlpatterns = [
    path("schema", SpectacularAPIView.as_view(), name="api-schema"),
    path("jobs", views.JobList.as_view(), name="api-jobs"),
    path("jobs/<uuid:job_id>", views.JobDetail.as_view(), name="api-job"),
    path("jobs/<uuid:job_id>/items", views.JobItems.as_view(), name="api-items"),
    path(
        "items/<uuid:item_id>/observations",
        views.ItemObservations.as_view(),
        name="api-observations",
    ),
    path("areas/<uuid:area_id>/clearances", views.AreaClearances.as_view(), name="api-clearances"),
]

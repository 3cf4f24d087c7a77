"""The jobs app: shops, people, jobs, areas, permits."""

from django.apps import AppConfig


class JobsConfig(AppConfig):
    name = "jobs"

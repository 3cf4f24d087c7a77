"""The API: the face for programs."""

from django.apps import AppConfig


class ApiConfig(AppConfig):
    name = "api"

    def ready(self) -> None:
        from api import receivers  # noqa: F401  it listens

"""The inspections app: what was seen of a house, and what follows from it."""

from django.apps import AppConfig


class InspectionsConfig(AppConfig):
    name = "inspections"

    def ready(self) -> None:
        from inspections import receivers, tasks  # noqa: F401  they listen

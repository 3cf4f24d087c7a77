"""The notifications app: what notices people should get, and how they are sent."""

from django.apps import AppConfig


class NotificationsConfig(AppConfig):
    name = "notifications"

    def ready(self) -> None:
        from notifications import receivers  # noqa: F401  it listens for settlings

"""The notifications app: what somebody should be told, and the telling."""

from django.apps import AppConfig


class NotificationsConfig(AppConfig):
    name = "notifications"

    def ready(self) -> None:
        from notifications import receivers  # noqa: F401  it listens for settlings

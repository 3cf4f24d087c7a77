"""The notifications app: what somebody should be told, and the telling."""

from django.apps import AppConfig


class NotificationsConfig(AppConfig):
    name = "notifications"

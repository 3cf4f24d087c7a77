"""The auditor as Django finds it: its command and its task. It has no tables of its own."""

from django.apps import AppConfig


class AuditConfig(AppConfig):
    """Nothing happens when it is loaded."""

    name = "audit"

"""The config app, so that its commands and checks are found."""

from django.apps import AppConfig
from django.conf import settings


class ConfigConfig(AppConfig):
    name = "config"

    def ready(self) -> None:
        """Know the Celery app and every message; write down who comes and goes, and send errors
        and times where that is set.

        Whatever uses no Django, as a child that opens one picture, starts without Celery.
        """
        import config.celery  # noqa: F401  tasks bind to it
        from config.errors import watch_errors
        from config.languages.sources import register_messages
        from config.security_log import listen
        from config.traces import watch_time

        register_messages()  # a page says notices that a worker stored
        listen()
        watch_errors(settings.ENVIRONMENT)
        watch_time(settings.ENVIRONMENT)

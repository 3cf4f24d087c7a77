"""The Celery app: a lost message costs a minute, never a conclusion."""

import os

from celery import Celery
from celery.signals import setup_logging

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")

app = Celery("studbay")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.conf.update(
    task_ignore_result=True,
    task_acks_late=True,
    task_reject_on_worker_lost=True,
    worker_prefetch_multiplier=1,
    broker_connection_retry_on_startup=True,
    broker_transport_options={
        "visibility_timeout": 300,
        "socket_connect_timeout": 2,
        "socket_timeout": 30,
        # A request must not wait for a broker that is down: the sweep will find the job.
        "max_retries": 1,
        "interval_start": 0,
        "interval_step": 0,
        "interval_max": 0,
    },
    task_publish_retry=False,
    beat_scheduler="config.beat:Scheduler",
    timezone="UTC",
)
app.autodiscover_tasks()


@setup_logging.connect
def keep_logging(**_: object) -> None:
    """Leave logging as the settings have it; without a receiver Celery puts its own there."""

"""Settings, urls and the Celery app. It decides nothing about houses."""

from config.celery import app as celery_app

__all__ = ["celery_app"]

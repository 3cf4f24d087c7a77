"""Settings, urls and the Celery app. It decides nothing about houses."""

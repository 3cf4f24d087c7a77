"""The API: the face for programs."""

from django.apps import AppConfig


class ApiConfig(AppConfig):
    name = "api"

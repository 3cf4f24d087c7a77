"""The config app, so that its commands and checks are found."""

from django.apps import AppConfig


class ConfigConfig(AppConfig):
    name = "config"

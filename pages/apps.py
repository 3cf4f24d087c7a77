"""The pages: the face for people."""

from django.apps import AppConfig


class PagesConfig(AppConfig):
    name = "pages"

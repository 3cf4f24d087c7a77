"""The pages: the face for people."""

from django.apps import AppConfig


class PagesConfig(AppConfig):
    name = "pages"

    def ready(self) -> None:
        """Sessions are noted as they begin."""
        from pages.account import presence  # noqa: F401  it listens

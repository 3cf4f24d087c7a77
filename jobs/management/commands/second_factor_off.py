"""manage.py second_factor_off NAME: for somebody whom no office can help."""

from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs.models import Person
from jobs.services.factors import factor_lift_by_server


class Command(BaseCommand):
    help = "Turn off the second factor of a person who lost it and whom no office can help."

    def add_arguments(self, parser: CommandParser) -> None:
        """The name that the person signs in with."""
        parser.add_argument("name")

    def handle(self, *, name: str, **_: Any) -> None:
        """Turn it off; it stays recorded that the server did."""
        try:
            factor_lift_by_server(Person.objects.get(username=name))
        except (Person.DoesNotExist, UnicodeEncodeError):  # the latter: bytes that are no text
            raise CommandError(f"{name!a}: nobody signs in with this name") from None
        except ValidationError as refused:
            raise CommandError(" ".join(refused.messages)) from None
        self.stdout.write(f"{name} signs in with the password alone from now on")

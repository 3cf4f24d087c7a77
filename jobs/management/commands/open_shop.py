"""Open a shop and print the way in for the first person of its office."""

from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from jobs.models import Role
from jobs.services.people import invitation_make
from jobs.services.shops import shop_open


class Command(BaseCommand):
    """One shop, and one invitation to its office."""

    help = "Open a shop and print an address where the first person of its office signs up."

    def add_arguments(self, parser: CommandParser) -> None:
        """The shop's name and time zone."""
        parser.add_argument("name", help="the shop's name")
        parser.add_argument("time_zone", help="its time zone, such as America/Edmonton")

    def handle(self, *args: str, **options: Any) -> None:
        """Write both or neither; a bad name or zone is said."""
        try:
            with transaction.atomic():
                shop = shop_open(name=options["name"], time_zone=options["time_zone"])
                _, secret = invitation_make(
                    None, shop=shop, role=Role.OFFICE, for_whom="the first person of the office"
                )
        except ValidationError as refused:
            raise CommandError("; ".join(refused.messages)) from None
        self.stdout.write(
            f"{shop} is open. Sign up once, within 14 days: {settings.SITE_URL}/join/{secret}"
        )

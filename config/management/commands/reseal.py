"""Seal everything with the key that seals now."""

from django.core.management.base import BaseCommand, CommandError, CommandParser

from config.resealing import reseal
from config.sealing import SealFault, new_key


class Command(BaseCommand):
    """Exit 1 when something stays sealed with another key."""

    help = "Seal secrets of the database anew with the first key, so that the others can go."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--new-key", action="store_true", help="only print a key")

    def handle(self, *args: str, **options: bool) -> None:
        if options["new_key"]:
            self.stdout.write(new_key())
            return
        try:
            told = reseal()
        except SealFault as fault:
            raise CommandError(str(fault)) from None
        self.stdout.write(
            f"{told.resealed:,} sealed anew, {told.good:,} were sealed with it already"
        )
        if told.faults:
            lines = "\n".join(sorted(told.faults))
            raise CommandError(f"{told.left:,} stay as they are; keep the keys there are.\n{lines}")

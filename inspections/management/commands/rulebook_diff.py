"""Print what changed between two rulebooks."""

import sys

from django.core.management.base import BaseCommand, CommandParser

from inspections.checker import manual
from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import RulebookFault, rulebook_ids


class Command(BaseCommand):
    """Exit 2 when there is no such rulebook."""

    help = "Print where the second rulebook differs from the first, limit by limit."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        names = ", ".join(rulebook_ids())
        parser.add_argument("first", help=f"one of {names}")
        parser.add_argument("second", help="another of them")

    def handle(self, *args: str, **options: str) -> None:
        try:
            first, second = (load_rulebook(options[x]) for x in ("first", "second"))
        except RulebookFault as error:
            self.stderr.write(str(error))
            sys.exit(2)
        self.stdout.write("\n".join(manual.limit_differences(first, second)))

"""Print what a rule asks, by one rulebook or by all."""

import sys

from django.core.management.base import BaseCommand, CommandParser

from inspections.checker import manual
from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import RulebookFault, rulebook_ids


class Command(BaseCommand):
    """Exit 2 when there is no such rule or rulebook."""

    help = "Print what a rule requires, its limits, their sections and how each is known."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("rule", help="a rule by its name, such as box-fill")
        parser.add_argument("--rulebook", help=f"one of {', '.join(rulebook_ids())}")

    def handle(self, *args: str, **options: str) -> None:
        if options["rulebook"]:
            chosen = [options["rulebook"]]
        else:
            chosen = rulebook_ids()
        try:
            rule = manual.find_rule(options["rule"])
            books = []
            for name in chosen:
                books.append(load_rulebook(name))
        except (manual.UnknownRule, RulebookFault) as error:
            self.stderr.write(str(error))
            sys.exit(2)
        self.stdout.write("\n".join(manual.explain_rule(rule, books)))

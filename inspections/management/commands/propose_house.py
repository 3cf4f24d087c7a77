"""Add to a house what it is short of, where that can be computed."""

import sys
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from inspections import checker
from inspections.checker.workbook import csv_zip, read_house, xlsx
from inspections.propose import STUD_SPACING_MM, Proposal, ProposalKind, Wants, finish_house

ADDED = ("rooms", "boxes", "circuits", "cables")


class Command(BaseCommand):
    """Exit 0 when nothing is short afterwards, 1 when something is, 2 on a bad file."""

    help = (
        "Add what a house lacks: receptacles, lights, alarms, circuits, cables and box sizes, "
        "and say why nothing smaller does."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("house", help="a house: JSON, .xlsx or CSV in a .zip")
        parser.add_argument("out", help="where to write: .json, .xlsx or .zip")
        parser.add_argument("--rulebook", help=f"one of {', '.join(checker.rulebook_ids())}")
        choices = []
        for kind in ProposalKind:
            choices.append(kind.value)
        parser.add_argument(
            "--without",
            action="append",
            default=[],
            choices=choices,
            help="leave out proposals of a kind; may be given several times",
        )
        parser.add_argument(
            "--studs", type=float, default=STUD_SPACING_MM, help="stud spacing in mm"
        )

    def handle(self, *args: str, **options: Any) -> None:
        try:
            solved = self._propose(options)
        except OSError as error:
            self._refuse(f"{error.filename}: {(error.strerror or 'unreadable').lower()}")
        except (checker.HouseFaults, checker.RulebookFault) as error:
            self._refuse(str(error))
        if not solved:
            sys.exit(1)

    def _propose(self, options: dict[str, Any]) -> bool:
        house = read_house(Path(options["house"]).read_bytes())
        chosen = options["rulebook"] or house.rulebook
        suffix = Path(options["out"]).suffix.lower()
        if not chosen:
            self._refuse("rulebook: is missing; name one in the file or with --rulebook")
        if suffix not in (".json", ".xlsx", ".zip"):
            self._refuse(f"{options['out']}: must end in .json, .xlsx or .zip")
        if not 200 <= options["studs"] <= 1300:
            self._refuse("--studs: must be 200 to 1300 mm")
        book = checker.load_rulebook(chosen)
        made_of = finish_house(house, book, Wants(options["studs"]))
        if options["without"]:
            left_out = set()
            for p in made_of.proposals:
                if p.kind in options["without"]:
                    left_out.add(p.key)
            made_of = finish_house(house, book, Wants(options["studs"]), left_out)
        after = made_of.house
        made = {".xlsx": xlsx, ".zip": csv_zip}.get(suffix)
        text = after.model_dump_json(indent=1, exclude_defaults=True).encode()
        Path(options["out"]).write_bytes(made(after) if made else text)
        for each in made_of.found:
            if isinstance(each, Proposal):
                out = ""
                if each.kind in options["without"]:
                    out = " (left out)"
                self.stdout.write(f"{each.key}: {each.says}{out}\n    {each.proof}")
            else:
                self.stdout.write(f"{each.kind}:{each.subject}: nothing proposed: {each.why}")
        for finding in made_of.short:
            words = finding.words
            self.stdout.write(f"still short: {finding.key}, {finding.spot.words}: {words.says}")
        added = []
        for n in ADDED:
            added.append(f"{len(getattr(after, n)) - len(getattr(house, n))} {n}")
        self.stdout.write(f"added: {', '.join(added)}")
        return not made_of.short

    def _refuse(self, text: str) -> NoReturn:
        self.stderr.write(text)
        sys.exit(2)

"""Add to a house what the code requires, where that can be computed."""

import sys
from collections.abc import Collection
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.house import House
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import RulebookFault, rulebook_ids
from inspections.checker.workbook import csv_zip, read_house, xlsx
from inspections.propose.finish import Finished, finish_house
from inspections.propose.places import STUD_SPACING_MM
from inspections.propose.proposal import Proposal, ProposalKind
from inspections.propose.wants import Wants

ADDED = ("rooms", "boxes", "circuits", "cables")


class Command(BaseCommand):
    """Exit 0 when nothing is short afterwards, 1 when something is, 2 on a bad file."""

    help = (
        "Add what the code requires: receptacles, lights, alarms, circuits, cables and box sizes, "
        "and say why nothing smaller will do."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("house", help="a house: JSON, .xlsx or CSV in a .zip")
        parser.add_argument("out", help="where to write: .json, .xlsx or .zip")
        parser.add_argument("--rulebook", help=f"one of {', '.join(rulebook_ids())}")
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
        except (HouseFaults, RulebookFault) as error:
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
        book, wants = load_rulebook(chosen), Wants(options["studs"])
        finished = finish_house(house, book, wants)
        if options["without"]:
            left_out = _keys_of(finished, options["without"])
            finished = finish_house(house, book, wants, left_out)
        Path(options["out"]).write_bytes(_as_file(finished.house, suffix))
        self._tell(finished, options["without"])
        added = []
        for name in ADDED:
            count = len(getattr(finished.house, name)) - len(getattr(house, name))
            added.append(f"{count} {name}")
        self.stdout.write(f"added: {', '.join(added)}")
        return not finished.short

    def _tell(self, finished: Finished, without: Collection[str]) -> None:
        """What was proposed, for what there is no proposal, and what is still not to code."""
        for each in finished.found:
            if isinstance(each, Proposal):
                out = ""
                if each.kind in without:
                    out = " (left out)"
                self.stdout.write(f"{each.key}: {said(each.says)}{out}\n    {said(each.proof)}")
            else:
                self.stdout.write(f"{each.kind}:{each.subject}: no proposal. {said(each.why)}")
        for finding in finished.short:
            where, says = said(finding.spot.text), said(finding.words.says)
            self.stdout.write(f"still not to code: {finding.key}, {where}: {says}")

    def _refuse(self, text: str) -> NoReturn:
        self.stderr.write(text)
        sys.exit(2)


def _keys_of(finished: Finished, kinds: Collection[str]) -> set[str]:
    """The keys of the proposals of these kinds."""
    keys: set[str] = set()
    for proposal in finished.proposals:
        if proposal.kind in kinds:
            keys.add(proposal.key)
    return keys


def _as_file(house: House, suffix: str) -> bytes:
    """The house as a workbook, as CSV in a zip, or as JSON."""
    if suffix == ".xlsx":
        return xlsx(house)
    if suffix == ".zip":
        return csv_zip(house)
    return house.model_dump_json(indent=1, exclude_defaults=True).encode()

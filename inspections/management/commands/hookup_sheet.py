"""The construction hookup sheet of a house file, without a database."""

from typing import Any

from django.core.management.base import CommandParser

from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.loads.authorised import Authorised
from inspections.loads.hookup import Outside, hookup_sheet
from inspections.management.house_command import CommandAnswer, HouseCommand, document_answer
from inspections.papers.report.load_documents import hookup_document
from inspections.papers.report.load_json import hookup_json


class Command(HouseCommand):
    """Readiness, the live list, the locked-off list, and what was left out and why."""

    help = "Print the hookup sheet of a house: 0 it is ready, 1 it is not, 2 a bad file."

    def add_arguments(self, parser: CommandParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("--permit", default="", help="the reference of the permit, issued")
        parser.add_argument("--rough-in", default="", help="the reference of the accepted rough-in")
        parser.add_argument(
            "--reference", default="", help="the authority's reference for the hookup"
        )
        parser.add_argument(
            "--live",
            nargs="+",
            default=[],
            metavar="CIRCUIT",
            help="with --reference: ids of the circuits that the authority authorized",
        )

    def answer(self, house: House, book: Rulebook, options: dict[str, Any]) -> CommandAnswer:
        authorised = self._authorised(house, options["reference"], options["live"])
        outside = Outside(
            True if options["permit"] else None,
            options["permit"],
            True if options["rough_in"] else None,
            options["rough_in"],
            options["reference"],
            authorised=authorised,
        )
        sheet = hookup_sheet(house, book, outside)
        return document_answer(hookup_document(house, book, sheet), hookup_json(house, book, sheet))

    def _authorised(
        self, house: House, reference: str, live: list[str]
    ) -> tuple[Authorised, ...] | None:
        """What may be live by the authority's word; None without one: the list is a proposal."""
        if bool(reference) != bool(live):
            self._refuse(
                "--reference and --live: give both, the authority's reference and the circuits "
                "that it authorized; or neither, for a proposal"
            )
        if not live:
            return None
        names = {}
        for circuit in house.circuits:
            names[circuit.id] = circuit.name
        circuits = []
        for each in dict.fromkeys(live):
            circuits.append(Authorised(each, f"{each} {names.get(each, '')}".strip()))
        return tuple(circuits)

"""The panel schedule and card of a house file, without a database."""

from typing import Any

from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.loads.panel import panels
from inspections.management.house_command import CommandAnswer, HouseCommand, document_answer
from inspections.papers.report.load_documents import panel_document
from inspections.papers.report.load_json import panel_json


class Command(HouseCommand):
    """Circuits, spaces, legs, the best arrangement with its proof, and the card."""

    help = "Print the panel schedule of a house: 0 OK, 1 not to code or info needed, 2 a bad file."

    def answer(self, house: House, book: Rulebook, options: dict[str, Any]) -> CommandAnswer:
        schedules = panels(house, book)
        return document_answer(
            panel_document(house, book, schedules), panel_json(house, book, schedules)
        )

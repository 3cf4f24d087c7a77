"""The service load of a house file, without a database."""

from typing import Any

from inspections import loads
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.management.house_command import CommandAnswer, HouseCommand, document_answer
from inspections.papers.report.load_documents import load_document
from inspections.papers.report.load_json import load_json


class Command(HouseCommand):
    """Every way that the code gives, with working, and the service that follows."""

    help = "Calculate a service load: 0 OK, 1 not to code or info needed, 2 a bad file."

    def answer(self, house: House, book: Rulebook, options: dict[str, Any]) -> CommandAnswer:
        load = loads.service_load(loads.facts_of(house, book), book)
        return document_answer(load_document(house, load), load_json(house, load))

"""A workbook to fill a house into, or with a house in it."""

import sys
from pathlib import Path

from django.core.management.base import BaseCommand, CommandParser

from inspections.checker.load import HouseFaults
from inspections.checker.workbook import csv_zip, read_house, xlsx


class Command(BaseCommand):
    """Write an .xlsx, or CSV files in a .zip; 2 when the house or a path is no good."""

    help = "Write a house as a workbook (.xlsx) or as CSV files (.zip); blank without a house."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("out", help="where to write: a name that ends in .xlsx or .zip")
        parser.add_argument("house", nargs="?", help="a house file: JSON, .xlsx or .zip")

    def handle(self, *args: str, out: str, house: str | None, **options: str) -> None:
        try:
            found = None
            if house:
                found = read_house(Path(house).read_bytes())
            made = {".xlsx": xlsx, ".zip": csv_zip}.get(Path(out).suffix.lower())
            if made is None:
                self.stderr.write(f"{out}: must end in .xlsx or .zip")
                sys.exit(2)
            Path(out).write_bytes(made(found))
        except OSError as error:
            self.stderr.write(f"{error.filename}: {(error.strerror or 'unreadable').lower()}")
            sys.exit(2)
        except HouseFaults as faults:
            self.stderr.write(str(faults))
            sys.exit(2)

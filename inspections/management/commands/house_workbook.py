"""Write the workbook in which a house is filled in, or the workbook of a house."""

import sys
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inspections import checker
from inspections.documents import example_house


class Command(BaseCommand):
    """`house_workbook OUT.xlsx` writes an empty one; with a house file, that of the house."""

    help = __doc__ or ""
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("out", help="where to write: OUT.xlsx, or OUT.zip for CSV files")
        parser.add_argument("house", nargs="?", help="a house file, workbook or zip to write from")

    def handle(self, *_args: str, out: str, house: str | None, **_options: Any) -> None:
        from inspections.checker.workbook import house_csv, house_xlsx

        path = Path(out)
        try:
            value = checker.read_house(Path(house).read_bytes()) if house else None
            if path.suffix == ".xlsx":
                path.write_bytes(house_xlsx(value, example_house()))
            elif path.suffix == ".zip" and value is not None:
                path.write_bytes(house_csv(value))
            else:
                self._refuse("write to a name that ends in .xlsx, or in .zip with a house given")
        except checker.HouseFaults as faults:
            self._refuse(str(faults))
        except OSError as error:
            self._refuse(f"{error.filename}: {(error.strerror or 'cannot be written').lower()}")
        self.stdout.write(str(path))

    def _refuse(self, text: str) -> None:
        self.stderr.write(text)
        sys.exit(2)

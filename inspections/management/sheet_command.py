"""What the commands that print a sheet of one house share."""

import json
import sys
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from inspections import checker
from inspections.report.document import Document, document_text


class SheetCommand(BaseCommand):
    """Exit 0 when nothing is short or unknown, 1 when something is, 2 on a bad file."""

    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="a house file in JSON, or - for standard input")
        parser.add_argument("--rulebook", help=f"one of {', '.join(checker.rulebook_ids())}")
        parser.add_argument("--amendments", help="a TOML file of local amendments")
        parser.add_argument("--format", choices=("text", "json", "pdf"), default="text")
        parser.add_argument("--output", help="where to write; a PDF goes beside you otherwise")

    def document(
        self, house: checker.House, book: checker.Rulebook, options: dict[str, Any]
    ) -> tuple[Document, dict[str, Any]]:
        """The sheet, and the same as JSON values."""
        raise NotImplementedError

    def handle(self, *_args: str, **options: Any) -> None:
        try:
            house, book = self._read(**options)
        except OSError as error:
            self._refuse(f"{error.filename}: {(error.strerror or 'unreadable').lower()}")
        except (checker.HouseFaults, checker.RulebookFault, UnicodeDecodeError) as error:
            self._refuse(str(error))
        document, values = self.document(house, book, options)
        self._write(options, document, values)
        if document.verdict not in ("meets", "look"):
            sys.exit(1)

    def _read(
        self, *, file: str, rulebook: str | None, amendments: str | None, **_: Any
    ) -> tuple[checker.House, checker.Rulebook]:
        raw = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
        overlay = Path(amendments).read_text("utf-8") if amendments else None
        house = checker.load_house(raw)
        chosen = rulebook or house.rulebook
        if not chosen:
            self._refuse("rulebook: is missing; name one in the file or with --rulebook")
        return house, checker.load_rulebook(chosen, overlay)

    def _write(self, options: dict[str, Any], document: Document, values: dict[str, Any]) -> None:
        if options["format"] == "pdf":
            from inspections.sheets.tables import document_pdf  # heavy, and only here

            stem = Path(options["file"]).stem if options["file"] != "-" else "house"
            name = f"{stem}-{document.name.lower().replace(' ', '-')}.pdf"
            path = Path(options["output"] or name)
            path.write_bytes(document_pdf(document))
            self.stdout.write(str(path))
            return
        if options["format"] == "json":
            text = json.dumps(values, indent=2, ensure_ascii=False) + "\n"
        else:
            text = document_text(document)
        if options["output"]:
            Path(options["output"]).write_text(text, "utf-8")
        else:
            self.stdout.write(text, ending="")

    def _refuse(self, text: str) -> NoReturn:
        self.stderr.write(text)
        sys.exit(2)

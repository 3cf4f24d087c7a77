"""What the commands that answer about one house file share."""

import json
import sys
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from time import process_time
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.house import House
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import Rulebook, RulebookFault, rulebook_ids
from inspections.checker.workbook import read_house
from inspections.papers.report.document import Document, document_text


@dataclass(frozen=True, slots=True)
class CommandAnswer:
    """What a command says of a house, made only in the form that is asked for."""

    passes: bool
    """Whether nothing is short or unknown."""
    text: Callable[[], str]
    values: Callable[[], dict[str, Any]]
    pdf: Callable[[], bytes]
    suffix: str = ""
    """What the name of its PDF adds to that of the house file."""
    papers: Mapping[str, Callable[[], bytes]] = field(default_factory=dict)
    """Other papers that it makes, by the format that asks for them."""


class HouseCommand(BaseCommand, ABC):
    """Exit 0 when nothing is short or unknown, 1 when something is, 2 on a bad file."""

    requires_system_checks = ()
    formats: tuple[str, ...] = ("text", "json", "pdf")
    cpu_s: dict[str, float]
    """Processor time of reading the house and its rulebook."""

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="a house: JSON, .xlsx or CSV in a .zip; or -")
        parser.add_argument("--rulebook", help=f"one of {', '.join(rulebook_ids())}")
        parser.add_argument("--amendments", help="a TOML file of local amendments")
        parser.add_argument("--format", choices=self.formats, default="text")
        parser.add_argument(
            "--output", help="where to write; without it, a PDF goes into the current folder"
        )

    @abstractmethod
    def answer(self, house: House, book: Rulebook, options: dict[str, Any]) -> CommandAnswer:
        """What the command says of the house by the rulebook."""

    def handle(self, *_args: str, **options: Any) -> None:
        try:
            house, book = self._read(**options)
            answer = self.answer(house, book, options)
        except OSError as error:
            self._refuse(f"{error.filename}: {(error.strerror or 'unreadable').lower()}")
        except (HouseFaults, RulebookFault, UnicodeDecodeError) as error:
            self._refuse(str(error))
        self._write(options, answer)
        if not answer.passes:
            sys.exit(1)

    def _read(
        self, *, file: str, rulebook: str | None, amendments: str | None, **_: Any
    ) -> tuple[House, Rulebook]:
        if file == "-":
            raw = sys.stdin.buffer.read()
        else:
            raw = Path(file).read_bytes()
        overlay = None
        if amendments:
            overlay = Path(amendments).read_text("utf-8")
        start = process_time()
        house = read_house(raw)
        read = process_time()
        chosen = rulebook or house.rulebook
        if not chosen:
            self._refuse("rulebook: missing. Name one in the file or with --rulebook.")
        book = load_rulebook(chosen, overlay)
        self.cpu_s = {"read": read - start, "rulebook": process_time() - read}
        return house, book

    def _write(self, options: dict[str, Any], answer: CommandAnswer) -> None:
        papers = {"pdf": answer.pdf, **answer.papers}
        asked = options["format"]
        if asked in papers:
            suffix = answer.suffix
            if asked != "pdf":
                suffix = f"-{asked}"
            self._write_paper(options, suffix, papers[asked]())
            return
        if options["format"] == "json":
            text = json.dumps(answer.values(), indent=2, ensure_ascii=False) + "\n"
        else:
            text = answer.text()
        if options["output"]:
            Path(options["output"]).write_text(text, "utf-8")
        else:
            self.stdout.write(text, ending="")

    def _write_paper(self, options: dict[str, Any], suffix: str, content: bytes) -> None:
        stem = "house"
        if options["file"] != "-":
            stem = Path(options["file"]).stem
        path = Path(options["output"] or f"{stem}{suffix}.pdf")
        path.write_bytes(content)
        self.stdout.write(str(path))

    def _refuse(self, text: str) -> NoReturn:
        self.stderr.write(text)
        sys.exit(2)


def document_answer(document: Document, values: dict[str, Any]) -> CommandAnswer:
    """The answer that a document is, with the same as JSON values."""

    def pdf() -> bytes:
        from inspections.papers.sheets.tables import document_pdf  # heavy, and only here

        return document_pdf(document)

    return CommandAnswer(
        document.verdict in ("ok", "verify"),
        lambda: document_text(document),
        lambda: values,
        pdf,
        f"-{said(document.name).lower().replace(' ', '-')}",
    )

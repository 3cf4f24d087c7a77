"""A sheet before it is drawn: sections of rows, the same for text, paper and page. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from config.languages import say
from config.messages.message import Value
from inspections.papers.report.report_messages import BY_RULEBOOK, FOR_HOUSE, PHOTOGRAPH
from inspections.standing.shown_messages import verdict_shown


@dataclass(frozen=True, slots=True)
class DocumentRow:
    """A row: its cells, the verdict where it has one, and lines of working under it."""

    cells: tuple[Value, ...]
    verdict: str = ""
    under: tuple[Value, ...] = ()
    strong: bool = False


@dataclass(frozen=True, slots=True)
class PhotographBlock:
    """A photograph with its caption; only paper shows it, text and page name it."""

    content: bytes
    caption: Value


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with its rows; `shares` are the columns' parts of the width."""

    title: Value
    columns: tuple[Value, ...] = ()
    rows: tuple[DocumentRow, ...] = ()
    shares: tuple[float, ...] = ()
    notes: tuple[Value, ...] = ()
    pictures: tuple[PhotographBlock, ...] = ()

    @property
    def marked(self) -> bool:
        """Whether any of its rows has a verdict."""
        for row in self.rows:
            if row.verdict:
                return True
        return False


@dataclass(frozen=True)
class Document:
    """A whole sheet: of messages, and of what people typed, marked as `Typed`."""

    name: Value
    house: str
    rulebook: str
    verdict: str
    says: Value
    sections: tuple[Section, ...]
    cautions: tuple[Value, ...] = ()
    amended: tuple[Value, ...] = ()


MARK = 11
"""Letters of a verdict in the text for a terminal."""


def document_text(document: Document) -> str:
    """The sheet for a terminal."""
    return "\n".join(_lines(document)) + "\n"


def _lines(document: Document) -> Iterator[str]:
    yield say(FOR_HOUSE(sheet=document.name, house=document.house))
    yield say(BY_RULEBOOK(rulebook=document.rulebook))
    yield from map(say, document.amended)
    yield f"[{say(verdict_shown(document.verdict))}] {say(document.says)}"
    for section in document.sections:
        yield ""
        yield say(section.title)
        for note in section.notes:
            yield f"  {say(note)}"
        yield from _rows(section)
        for picture in section.pictures:
            yield f"  {say(PHOTOGRAPH(caption=picture.caption))}"
    yield ""
    yield from map(say, document.cautions)


def _rows(section: Section) -> Iterator[str]:
    if not section.rows:
        return
    columns = _said(section.columns)
    said_rows = [_said(row.cells) for row in section.rows]
    if columns:
        wide = _widths([columns, *said_rows])
    else:
        wide = _widths(said_rows)
    before = ""
    if section.marked:
        before = " " * (MARK + 4)
    if columns:
        yield f"  {before}{_row(columns, wide)}"
    for row, cells in zip(section.rows, said_rows, strict=True):
        mark = before
        if section.marked and row.verdict:
            mark = f"[{say(verdict_shown(row.verdict)):^{MARK}}]  "
        yield f"  {mark}{_row(cells, wide)}".rstrip()
        for line in row.under:
            yield f"  {before}    {say(line)}"


def _said(cells: Sequence[Value]) -> list[str]:
    return [say(cell) for cell in cells]


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    """How wide the widest cell of each column is; the first row tells how many there are."""
    wide = [0] * len(rows[0])
    for row in rows:
        for column, cell in enumerate(row[: len(wide)]):
            wide[column] = max(wide[column], len(cell))
    return wide


def _row(cells: Sequence[str], wide: Sequence[int]) -> str:
    last = len(cells) - 1
    padded = []
    for index, (cell, width) in enumerate(zip(cells, wide, strict=False)):
        padded.append(cell if index == last else cell.ljust(width))
    return "  ".join(padded).rstrip()

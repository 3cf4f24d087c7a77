"""A sheet before it is drawn: sections of rows, the same for text, paper and page. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DocumentRow:
    """A row: its cells, the verdict where it has one, and lines of working under it."""

    cells: tuple[str, ...]
    verdict: str = ""
    under: tuple[str, ...] = ()
    strong: bool = False


@dataclass(frozen=True, slots=True)
class PhotographBlock:
    """A photograph with its caption; only paper shows it, text and page name it."""

    content: bytes
    caption: str


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with its rows; `shares` are the columns' parts of the width."""

    title: str
    columns: tuple[str, ...] = ()
    rows: tuple[DocumentRow, ...] = ()
    shares: tuple[float, ...] = ()
    notes: tuple[str, ...] = ()
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
    """A whole sheet."""

    name: str
    house: str
    rulebook: str
    verdict: str
    says: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...] = ()
    amended: tuple[str, ...] = ()


def document_text(document: Document) -> str:
    """The sheet for a terminal."""
    return "\n".join(_lines(document)) + "\n"


def _lines(document: Document) -> Iterator[str]:
    yield f"{document.name}: {document.house}"
    yield f"by {document.rulebook}"
    yield from document.amended
    yield f"[{document.verdict}] {document.says}"
    for section in document.sections:
        yield ""
        yield section.title
        for note in section.notes:
            yield f"  {note}"
        yield from _rows(section)
        for picture in section.pictures:
            yield f"  photograph: {picture.caption}"
    yield ""
    yield from document.cautions


def _rows(section: Section) -> Iterator[str]:
    if not section.rows:
        return
    headed = [row.cells for row in section.rows]
    if section.columns:
        headed.insert(0, section.columns)
    wide = _widths(headed)
    before = ""
    if section.marked:
        before = " " * 11
    if section.columns:
        yield f"  {before}{_row(section.columns, wide)}"
    for row in section.rows:
        mark = before
        if section.marked and row.verdict:
            mark = f"[{row.verdict:^7}]  "
        yield f"  {mark}{_row(row.cells, wide)}".rstrip()
        for line in row.under:
            yield f"  {before}    {line}"


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

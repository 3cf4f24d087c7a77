"""Sheets bound into one file, with a bookmark for each."""

from collections.abc import Sequence
from io import BytesIO

from pypdf import PdfReader, PdfWriter


def bundle_pdf(parts: Sequence[tuple[str, bytes]]) -> bytes:
    """The parts in order as one PDF; the same parts give the same bytes."""
    writer = PdfWriter()
    for name, content in parts:
        writer.append(PdfReader(BytesIO(content)), outline_item=name, import_outline=True)
    writer.page_mode = "/UseOutlines"
    made = BytesIO()
    writer.write(made)
    return made.getvalue()

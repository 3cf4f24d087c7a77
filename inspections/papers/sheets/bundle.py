"""Sheets bound into one file, with a bookmark for each."""

from collections.abc import Sequence
from io import BytesIO

from django.utils import timezone
from pypdf import PdfReader, PdfWriter

from inspections.papers.sheets.frame import pdf_moment


def bundle_pdf(parts: Sequence[tuple[str, bytes]]) -> bytes:
    """The parts in order as one PDF; the same parts at the same second give the same bytes."""
    writer = PdfWriter()
    for name, content in parts:
        writer.append(PdfReader(BytesIO(content)), outline_item=name, import_outline=True)
    writer.page_mode = "/UseOutlines"
    writer.add_metadata({"/CreationDate": pdf_moment(timezone.now())})
    made = BytesIO()
    writer.write(made)
    return made.getvalue()

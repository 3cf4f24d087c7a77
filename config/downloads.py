"""Files that go out, with a name in their header that no text can break (RFC 6266)."""

from django.http import HttpResponse
from django.utils.http import content_disposition_header

PDF = "application/pdf"


def download(
    content: bytes | str, name: str, *, kind: str = PDF, attachment: bool = False
) -> HttpResponse:
    """An answer that is a file: shown by the browser, or kept as one where `attachment` says so."""
    response = HttpResponse(content, content_type=kind)
    told = content_disposition_header(attachment, name.replace("\n", " ").replace("\r", " "))
    if told:
        response["Content-Disposition"] = told
    return response

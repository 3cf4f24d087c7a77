"""What a page asks for every second or two is sent again only when it is not what the page has.

The tag is of all that is shown, drawn at each request: whatever changes changes the tag.
A whole page is never kept by a browser: going back to it without a signal would show what was.
"""

import hashlib

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_vary_headers
from django.utils.http import quote_etag
from django.utils.translation import get_language


def unless_same(request: HttpRequest, part: HttpResponse) -> HttpResponse:
    """The part of a page, or 304 when the reader has it as it is (RFC 9110, 13.1.2)."""
    tag = _tag(request, part)
    part.headers["ETag"] = tag
    part.headers["Cache-Control"] = "private, no-cache"
    patch_vary_headers(part, ("HX-Request", "Cookie", "Accept-Language"))
    return get_conditional_response(request, etag=tag, response=part) or part


def _tag(request: HttpRequest, part: HttpResponse) -> str:
    """Of the address, the reader, the language and every byte that is shown."""
    told = hashlib.sha256()
    for each in (request.get_full_path(), str(request.user.pk), str(get_language())):
        told.update(each.encode() + b"\n")
    told.update(part.content)
    return quote_etag(told.hexdigest())

"""Whom to tell of a hole in the site's safety: /.well-known/security.txt (RFC 9116)."""

from datetime import UTC, timedelta

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

GOOD_FOR = timedelta(days=180)
"""Less than a year, as section 2.5.5 recommends; always so far ahead, since it is made anew."""


@require_safe
def security_txt(_request: HttpRequest) -> HttpResponse:
    """Contacts, until when they hold, languages, and where the file stands; 404 with no contact."""
    contacts = settings.ENVIRONMENT.studbay_security_contact
    if not contacts:
        raise Http404
    day = timezone.now().astimezone(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
    contact_lines = []
    for contact in contacts:
        contact_lines.append(f"Contact: {contact}")
    lines = [
        *contact_lines,
        f"Expires: {(day + GOOD_FOR).isoformat().replace('+00:00', 'Z')}",
        f"Preferred-Languages: {', '.join(code for code, _ in settings.LANGUAGES)}",
        f"Canonical: {settings.SITE_URL}/.well-known/security.txt",
    ]
    return HttpResponse("\n".join(lines) + "\n", content_type="text/plain; charset=utf-8")

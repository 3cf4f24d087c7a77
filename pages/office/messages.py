"""Messages that went to files, since no mail server is set: to be read where they were made."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.views.decorators.http import require_GET

from jobs.requests import SignedIn
from notifications.selectors import deliveries_filed, delivery_read, filed_message
from pages.responses import found_or_404, render_in


@login_required
@require_GET
def sent_messages(request: SignedIn) -> HttpResponse:
    """The messages of the shops whose office the reader keeps, the latest first."""
    context = {"deliveries": deliveries_filed(request.user)}
    return render_in(request, None, "office/messages.html", context)


@login_required
@require_GET
def sent_message(request: SignedIn, delivery_id: UUID) -> HttpResponse:
    """One message as its reader gets it: plain text, and HTML in a frame that may do nothing."""
    delivery = found_or_404(delivery_read, request.user, delivery_id)
    found = filed_message(delivery)
    if found is None:
        raise Http404
    html = found.get_body(("html",))
    plain = found.get_body(("plain",))
    assert plain is not None  # every message of ours has one
    headers = []
    for name in ("To", "Subject", "Message-ID"):
        headers.append((name, found[name]))
    files = []
    for part in found.iter_attachments():
        files.append(part.get_filename())
    context = {
        "delivery": delivery,
        "headers": headers,
        "text": plain.get_content(),
        "html": html.get_content() if html else "",
        "files": files,
    }
    return render_in(request, delivery.shop, "office/message.html", context)

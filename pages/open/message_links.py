"""What opens without sign-in, by a link from a message: seen, stop, a calendar."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_GET, require_http_methods

from config.languages import say
from notifications.links import BadLink, seen_token, stop_token
from notifications.models import NoticeKind
from notifications.selectors import feed_calendar, notice_of_link
from notifications.services.wishes import seen_by_link, stop_kind
from pages.open import open_messages as words


def _bad(request: HttpRequest, fault: BadLink) -> HttpResponse:
    context = {"heading": words.LINK_INVALID(), "says": getattr(fault, "text", str(fault))}
    return render(request, "open/message_link.html", context, status=404)


@csrf_exempt  # the link itself is the proof, and mail programs send no cookie
@require_http_methods(["GET", "POST"])
def message_seen(request: HttpRequest, token: str) -> HttpResponse:
    """Somebody has seen a notice. Opening alone does not say so: programs open links too."""
    try:
        notice_id = seen_token(token)
    except BadLink as fault:
        return _bad(request, fault)
    if request.method == "POST":
        notice = seen_by_link(notice_id)
    else:
        notice = notice_of_link(notice_id)
    if notice is None:
        raise Http404
    context = {"notice": notice, "ask": notice.seen_at is None}
    with timezone.override((notice.job or notice.shop).time_zone):
        return render(request, "open/notice_seen.html", context)


@csrf_exempt  # RFC 8058: the mail program posts by itself
@require_http_methods(["GET", "POST"])
def stop(request: HttpRequest, token: str) -> HttpResponse:
    """End messages of one kind."""
    try:
        address_id, kind = stop_token(token)
    except BadLink as fault:
        return _bad(request, fault)
    label = say(NoticeKind(kind).label)
    if request.method == "POST":
        stop_kind(address_id=address_id, kind=kind)
        done = {"heading": words.STOPPED(), "says": words.STOPPED_KIND(kind=label)}
        return render(request, "open/message_link.html", done)
    context = {
        "heading": words.STOP_ASK(),
        "says": words.STOP_KIND(kind=label),
        "button": words.STOP_BUTTON(),
    }
    return render(request, "open/message_link.html", context)


@require_GET
def calendar_feed(_request: HttpRequest, token: str) -> HttpResponse:
    """A calendar to subscribe to."""
    found = feed_calendar(token)
    if found is None:
        raise Http404
    return HttpResponse(found, content_type="text/calendar; charset=utf-8")

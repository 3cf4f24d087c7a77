"""What a page refuses comes back as the page it was sent from, with everything that was typed.

A view says `refuse` (or asks `valid` and `attempt`, which do) and then goes on as if all were well:
it leads to the page that comes next, or draws its own. Where something was refused, that page is
drawn at once instead, with what was typed in its form, each fault beside its field, and a status
that says so. So no view keeps what was typed by itself, and none can forget to.
"""

from collections.abc import Callable, Iterable, Mapping
from copy import copy
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit
from uuid import UUID

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.http import HttpRequest, HttpResponse, QueryDict
from django.template.loader import render_to_string
from django.urls import resolve

from config.languages import say
from config.messages.message import Text
from pages import page_messages as words
from pages.refill import RefillWords, RefusedForm, refilled

Respond = Callable[[HttpRequest], HttpResponse]
Fault = str | Text | ValidationError | Mapping[str, Iterable[str]]
RETRY_AFTER = "60"  # seconds, where what we stand on has no room or is away
NOTED = "refusal"
"""Where a request keeps what was refused of it."""
LEADS = 3
"""How often the page that comes next may lead on to another."""


@dataclass
class Refusal:
    """What was refused of a request."""

    faults: dict[str, list[str | Text]] = field(default_factory=dict)
    """What was wrong by name of the field; those of the form as a whole under an empty name."""
    status: int = 422
    unshown: set[str] = field(default_factory=set)
    """Names of what was sent and typed by nobody."""


def refusal_of(request: HttpRequest) -> Refusal | None:
    """What was refused so far, if anything was."""
    return getattr(request, NOTED, None)


def refuse(
    request: HttpRequest,
    fault: Fault,
    *,
    at: str = "",
    status: int = 422,
    unshown: Iterable[str] = (),
) -> None:
    """Note that what was sent is not taken, and why: beside the field `at`, or at the form."""
    refusal = refusal_of(request) or Refusal()
    setattr(request, NOTED, refusal)
    refusal.status = status
    refusal.unshown.update(unshown)
    for name, faults in _by_field(fault, at).items():
        known = refusal.faults.setdefault(name, [])
        for each in faults:
            if each not in known:
                known.append(each)


def _by_field(fault: Fault, at: str) -> dict[str, list[str | Text]]:
    if isinstance(fault, str | Text):
        return {at: [fault]}
    if isinstance(fault, ValidationError):
        by_name = hasattr(fault, "error_dict")
        if by_name:
            fault = fault.message_dict
        else:
            fault = {at: fault.messages}
    faults: dict[str, list[str | Text]] = {}
    for name in fault:
        faults["" if name == NON_FIELD_ERRORS else name] = list(fault[name])
    return faults


def valid(request: HttpRequest, form: forms.BaseForm) -> dict[str, Any] | None:
    """What a form was sent, cleaned; None when it will not do, which the answer then says."""
    if form.is_valid():
        return form.cleaned_data
    by_name = {}
    for name, faults in form.errors.items():
        by_name[name] = list(map(str, faults))
    refuse(request, by_name)
    return None


def refusal_middleware(respond: Respond) -> Respond:
    """Give a page that refused something back with what was typed in it."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = respond(request)
        refusal = refusal_of(request)
        if refusal is None:
            return response
        page, own = _next_page(request, response)
        if page.get("Content-Type", "").startswith("text/html"):
            page.content = _with_typed(request, page.text, own, refusal)
            if page.status_code < 400:
                page.status_code = refusal.status
            if refusal.status == 503:
                page["Retry-After"] = RETRY_AFTER
        page.cookies.update(response.cookies)
        return page

    return answer


def _next_page(request: HttpRequest, response: HttpResponse) -> tuple[HttpResponse, str]:
    """The page that a view leads to, drawn here and now, and its path."""
    own = request.path
    for _ in range(LEADS):
        if not 300 <= response.status_code < 400:
            break
        where = urlsplit(response["Location"])
        own = where.path
        view = resolve(own)
        shown = _looking_at(request, own, where.query)
        shown.resolver_match = view
        response = view.func(shown, *view.args, **view.kwargs)
        if hasattr(response, "render"):
            response.render()
    return response, own


def _looking_at(request: HttpRequest, path: str, query: str) -> HttpRequest:
    """The same reader looking at a page: nothing is sent with it."""
    shown = copy(request)
    shown.method = "GET"
    shown.path = shown.path_info = path
    shown.META = request.META | {"PATH_INFO": path, "QUERY_STRING": query}
    shown.GET = QueryDict(query)
    shown.POST = QueryDict()
    return shown


def _with_typed(request: HttpRequest, page: str, own: str, refusal: Refusal) -> str:
    faults = {name: [say(each) for each in said] for name, said in refusal.faults.items()}
    hidden = {"csrfmiddlewaretoken", *refusal.unshown}
    typed = {}
    for name, values in request.POST.lists():
        if name not in hidden:
            typed[name] = values
    sent = RefusedForm(request.path, typed, frozenset(request.FILES), faults)
    refill_words = RefillWords(say(words.FILE_AGAIN()), say(words.ALSO_TYPED()))
    found = refilled(page, sent, refill_words, own)
    if found.found:
        return found.page
    # The form is not on the page any more, or not for this reader: what was typed is shown above.
    context = {
        "faults": [each for said in faults.values() for each in said],
        "typed": list(_shown(request, typed)),
    }
    said = render_to_string("parts/refused.html", context)
    return page.replace("<main>", f"<main>{said}", 1)


def _shown(request: HttpRequest, typed: Mapping[str, list[str]]) -> Iterable[tuple[str, str]]:
    """What a reader recognises as typed: no secrets, no ids of what was chosen in a list."""
    secret = getattr(request, "sensitive_post_parameters", ())
    if secret == "__ALL__":  # noqa: S105 - Django's word for every field
        return
    for name, values in typed.items():
        if name in secret:
            continue
        for text in values:
            if text and not _is_id(text):
                yield name.replace("_", " "), text


def _is_id(text: str) -> bool:
    try:
        UUID(text)
    except ValueError:
        return False
    return True

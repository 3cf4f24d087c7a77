"""The rulebooks as they are and as the shop has them: every rule with its limits and why."""

from dataclasses import dataclass
from inspect import cleandoc
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from config.languages import say
from config.messages.message import Text
from inspections.checker.finding import Rule, rules
from inspections.checker.manual import basis, limit_name, limit_shown
from inspections.checker.rulebook import Limit, Rulebook, rulebook_ids
from inspections.checker.units import units_into
from inspections.houses.amendments import (
    NotAValue,
    amendable,
    amendments_of,
    checked_otherwise,
    limit_value_typed,
    rulebook_of_shop,
    text_of,
)
from inspections.models import Amendment
from inspections.papers.report.as_text import CAUTION
from inspections.selectors import job_read
from inspections.services.amendments import house_check_again, limit_amend, limit_restore
from jobs.access import role_in
from jobs.models import Job, Role, Shop
from jobs.requests import SignedIn
from pages.office.labels import CHECKED_AGAIN, LOOSER
from pages.refusals import refuse
from pages.responses import attempt, found_or_404, render_in, site_shop


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit as a page shows it, with what the shop said of it, the latest first."""

    limit: Limit
    name: str
    shown: str
    basis: Text
    text: str | None
    """The value as a form takes it; None where it cannot be amended."""
    units: list[str]
    said: list[Amendment]


@login_required
@require_GET
def rulebooks(request: SignedIn) -> HttpResponse:
    """The rulebooks, each with how much it asks, from where, and what the shop amended."""
    shop = site_shop(request)
    found = []
    for name in rulebook_ids():
        found.append(rulebook_of_shop(shop, name))
    used = dict.fromkeys(shop.jobs.values_list("revisions__rulebook", flat=True))
    lines = []
    for book in found:
        lines.append(
            {
                "book": book,
                "rules": sum(book.speaks_on(rule) for rule in rules()),
                "read": sum(limit.known == "read" for limit in book.limits.values()),
                "used": book.id in used,
            }
        )
    return render(request, "office/rulebooks.html", {"shop": shop, "lines": lines})


@login_required
@require_GET
def rulebook(request: SignedIn, name: str) -> HttpResponse:
    """One rulebook: its rules by topic, those that were amended marked."""
    shop = site_shop(request)
    book = _book(shop, name)
    topics: dict[str, list[tuple[Rule, list[Limit]]]] = {}
    for rule in sorted(rules().values(), key=lambda rule: rule.title):
        topics.setdefault(rule.topic, []).append((rule, book.limits_of(rule.id)))
    jobs = []
    for job in _jobs(shop, name):
        if checked_otherwise(job):
            jobs.append(job)
    context = {
        "shop": shop,
        "book": book,
        "topics": sorted(topics.items()),
        "standing": amendments_of(shop, name).values(),
        "jobs": jobs,
        "office": role_in(request.user, shop) == Role.OFFICE,
    }
    return render_in(request, shop, "office/rulebook.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def rule_page(request: SignedIn, name: str, rule: str) -> HttpResponse:
    """One rule by one rulebook; the office sets its limits here."""
    shop = site_shop(request)
    book = _book(shop, name)
    if rule not in rules():
        raise Http404
    if request.method == "POST":
        _set(request, shop, book)
        return redirect("rule", name=name, rule=rule)
    history = shop.amendments.filter(rulebook=name, limit__startswith=f"{rule}.")
    said: dict[str, list[Amendment]] = {}
    for each in history.select_related("made_by").order_by("-made_at", "-id"):
        said.setdefault(each.limit, []).append(each)
    lines = []
    for limit in book.limits_of(rule):
        lines.append(_line(limit, said.get(limit.name, [])))
    context = {
        "shop": shop,
        "book": book,
        "rule": rules()[rule],
        "paragraphs": paragraphs(rules()[rule].doc),
        "lines": lines,
        "office": role_in(request.user, shop) == Role.OFFICE,
        "required": LOOSER(),
        "caution": CAUTION,
    }
    return render_in(request, shop, "office/rule.html", context)


@login_required
@require_POST
def check_again(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Check a house by the amendments that stand now."""
    job = found_or_404(job_read, request.user, job_id)
    if revision := attempt(request, house_check_again, job=job):
        messages.success(request, say(CHECKED_AGAIN(n=revision.number)))
    return redirect("job", job.id)


def _book(shop: Shop, name: str) -> Rulebook:
    if name not in rulebook_ids():
        raise Http404
    return rulebook_of_shop(shop, name)


def _jobs(shop: Shop, name: str) -> list[Job]:
    jobs = shop.jobs.filter(revisions__rulebook=name, permit__closed_on__isnull=True)
    return list(jobs.select_related("shop").distinct().order_by("id"))


def _set(request: HttpRequest, shop: Shop, book: Rulebook) -> None:
    """Keep what was sent, or say what was wrong with it."""
    limit = book.get(request.POST.get("limit", ""))
    if limit is None:
        raise Http404
    given = {"shop": shop, "rulebook": book.id, "limit": limit.name}
    given["reason"] = request.POST.get("reason", "")[:300]
    if "restore" in request.POST:
        attempt(request, limit_restore, **given)
        return
    try:
        value = limit_value_typed(limit, request.POST.get("value", ""))
    except NotAValue as fault:
        refuse(request, fault.text, at="value")
        return
    unit = request.POST.get("unit", limit.unit)
    attempt(request, limit_amend, value=value, unit=unit, **given)


def paragraphs(doc: str) -> list[str]:
    """The paragraphs of what a rule says of itself, each in one line."""
    parts: list[str] = []
    for part in cleandoc(doc).split("\n\n"):
        parts.append(" ".join(part.split()))
    return parts


def _line(limit: Limit, said: list[Amendment]) -> LimitLine:
    units = units_into(limit.unit)
    text = None
    if amendable(limit):
        text = text_of(limit)
    return LimitLine(limit, limit_name(limit), limit_shown(limit), basis(limit), text, units, said)

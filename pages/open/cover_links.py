"""What opens without an account: a job's cover by a personal link, an area by its placard."""

from collections.abc import Callable
from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST

from config.downloads import download
from config.languages import say
from inspections.links import LinkGone, link_open, placard_state
from inspections.models import Link
from inspections.papers.documents import area_placard_pdf
from inspections.papers.report.as_text import CAUTION
from inspections.record.checks import NoPaper, paper_of
from inspections.selectors import area_read, job_read, latest_revision, link_read
from inspections.services.links import (
    cover_link_make,
    link_acknowledge,
    link_withdraw,
    placard_make,
)
from inspections.standing.stages import Stage
from jobs.models import Job
from jobs.requests import SignedIn
from pages.jobs.layout import cover_lines
from pages.open import open_messages as words
from pages.open.unless_same import unless_same
from pages.refusals import valid
from pages.responses import attempt, found_or_404, render_at, to_job


class LinkForm(forms.Form):
    """Somebody to show the cover to, and for how long."""

    for_whom = forms.CharField(max_length=120, required=False)
    days = forms.IntegerField(required=False)


def link_opened(
    request: HttpRequest, secret: str, show: Callable[[Link], HttpResponse]
) -> HttpResponse:
    """What the link opens, or a page that says why it opens nothing any more."""
    try:
        link = link_open(secret)
    except Link.DoesNotExist:
        raise Http404 from None
    except LinkGone as gone:
        return render(request, "open/link_gone.html", {"why": gone.text}, status=410)
    return show(link)


@require_GET
def link(request: HttpRequest, secret: str) -> HttpResponse:
    """The page behind a link; its state alone when the page asks for that anew."""
    return link_opened(request, secret, lambda found: _shown(request, found, secret))


def _shown(request: HttpRequest, found: Link, secret: str) -> HttpResponse:
    job = found.job
    context = {"job": job, "link": found, "secret": secret, "caution": CAUTION}
    if found.kind == Link.Kind.APPENDIX:
        context["revision"] = latest_revision(job)
        return render_at(request, job, "open/appendix.html", context)
    if found.kind == Link.Kind.PLACARD:
        whole, part = "open/placard.html", "open/parts/placard.html"
        context |= {"area": found.area, "state": placard_state(found)}
    else:
        whole, part = "open/link_cover.html", "jobs/parts/covers.html"
        context |= {"covers": cover_lines(job), "stages": list(Stage)}
    if "HX-Request" in request.headers:
        return unless_same(request, render_at(request, job, part, context))
    return render_at(request, job, whole, context)


@require_GET
@never_cache
def link_appendix(request: HttpRequest, secret: str) -> HttpResponse:
    """The file behind the code on an inspector's pack."""
    return link_opened(request, secret, _appendix)


def _appendix(found: Link) -> HttpResponse:
    if found.pack is None or found.pack.appendix is None:
        raise Http404
    return download(bytes(found.pack.appendix), f"appendix-{found.job_id}.pdf")


@never_cache
@require_POST
def acknowledge(request: HttpRequest, secret: str) -> HttpResponse:
    """Whoever holds the link says that the present state was seen."""

    def kept(found: Link) -> HttpResponse:
        link_acknowledge(found)
        return redirect("link", secret=secret)

    return link_opened(request, secret, kept)


@login_required
@require_POST
def make(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Make a link to what may be covered; its address is shown this once."""
    job = found_or_404(job_read, request.user, job_id)
    given = valid(request, LinkForm(request.POST))
    if given is not None and given["days"] is None:
        del given["days"]  # as many as a link is good for
    made = None
    if given:
        made = attempt(request, cover_link_make, job=job, **given)
    if made:
        found, secret = made
        address = _address(request, secret)
        text = words.LINK_MADE(person=found.for_whom, address=address)
        messages.success(request, say(text))
    return to_job(job.id, "builder-links")


@login_required
@require_POST
def withdraw_link(request: SignedIn, link_id: UUID) -> HttpResponse:
    """Take a link back."""
    found = found_or_404(link_read, request.user, link_id)
    attempt(request, link_withdraw, link=found)
    return to_job(found.job_id, "builder-links")


@login_required
@require_POST
def placard(request: SignedIn, area_id: UUID) -> HttpResponse:
    """A new placard for the wall of an area, as a PDF."""
    area = found_or_404(area_read, request.user, area_id)
    opened = attempt(request, placard_make, area=area)
    if opened is None:
        return to_job(area.job_id, f"area-{area.id}")
    made, secret = opened
    content = area_placard_pdf(made, _address(request, secret))
    return download(content, f"placard-{area.code}.pdf")


def links_of(job: Job) -> list[Link]:
    """The links of a job to its cover and to appendixes, also withdrawn, the latest first."""
    kinds = (Link.Kind.COVER, Link.Kind.APPENDIX)
    return list(job.links.filter(kind__in=kinds).order_by("-made_at"))


def _address(request: HttpRequest, secret: str) -> str:
    return request.build_absolute_uri(reverse("link", args=[secret]))


@require_GET
@never_cache
def paper(request: HttpRequest, token: str) -> HttpResponse:
    """Whether a paper is still what stands; opened by the address on it, without an account."""
    try:
        found = paper_of(token)
    except NoPaper:
        return render(request, "open/paper.html", {}, status=404)
    return render(request, "open/paper.html", {"paper": found})

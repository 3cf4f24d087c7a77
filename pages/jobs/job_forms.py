"""The office opens a job, and changes what it is."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from config.generics import ModelForm
from config.languages import said_later, say
from inspections.selectors import job_read, latest_revision
from inspections.services.jobs import job_change
from jobs.access import SITE_ROLES, role_in
from jobs.forms import DayFormField
from jobs.models import Authority, Builder, Job, Person, Role, Shop
from jobs.moments import ANY_DAY
from jobs.requests import SignedIn
from jobs.services.jobs import job_open
from pages.fields import choose_among
from pages.jobs.page_messages import JOB_FIELDS, JOB_OPEN
from pages.refusals import valid
from pages.responses import attempt, found_or_404, office_shop, render_at

LABELS = {name: said_later(label()) for name, label in JOB_FIELDS.items()}
NAMES = ("name", "address", "builder", "authority", "crew_lead", "drywall_on")


class JobForm(ModelForm[Job]):
    """What a job is: where, for whom, under which authority, led by whom, covered when."""

    drywall_on = DayFormField(
        ANY_DAY,
        required=False,
        widget=forms.DateInput({"type": "date"}),
        label=LABELS["drywall_on"],
    )

    class Meta:
        model = Job
        fields = NAMES
        labels = LABELS

    def __init__(self, shop: Shop, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        choose_among(self, "builder", Builder.objects.filter(shop=shop).order_by("name"))
        choose_among(self, "authority", Authority.objects.filter(shop=shop).order_by("name"))
        crew = Person.objects.filter(memberships__shop=shop, memberships__role__in=SITE_ROLES)
        choose_among(self, "crew_lead", crew.order_by("first_name", "username"))


@login_required
@require_http_methods(["GET", "POST"])
def job_new(request: SignedIn) -> HttpResponse:
    """Open a job of the shop whose office the reader keeps."""
    shop = office_shop(request)
    form = JobForm(shop, request.POST or None)
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None:
        job = attempt(request, job_open, shop=shop, **_given(given))
        if job:
            messages.success(request, say(JOB_OPEN()))
            return redirect("job", job.id)
    return render(request, "jobs/job_new.html", {"form": form, "shop": shop})


@login_required
@require_http_methods(["GET", "POST"])
def job_edit(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Change what a job is; its record keeps what it was."""
    job = found_or_404(job_read, request.user, job_id)
    if role_in(request.user, job.shop) != Role.OFFICE:
        raise Http404
    form = JobForm(job.shop, request.POST or None, instance=Job.objects.get(id=job.id))
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None and attempt(request, job_change, job=job, **_given(given)) is not None:
        return redirect("job", job.id)
    context = {"form": form, "job": job, "revision": latest_revision(job)}
    return render_at(request, job, "jobs/job_edit.html", context)


def _given(cleaned: dict[str, Any]) -> dict[str, Any]:
    by_name: dict[str, Any] = {}
    for name in NAMES:
        by_name[name] = cleaned[name]
    return by_name

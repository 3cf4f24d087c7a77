"""What the office records of inspections, deficiencies and site changes."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from config.languages import say
from inspections.models import (
    CONCEALING,
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionKind,
)
from inspections.selectors import deficiency_read, inspection_read, job_read, site_change_read
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.site_changes import site_change_accept, site_change_leave
from jobs.forms import DayFormField
from jobs.models import Area, Job
from jobs.moments import ANY_DAY
from jobs.requests import SignedIn
from pages.fields import choose_of
from pages.jobs.page_messages import CHOOSE_RESULT, RECORDED
from pages.jobs.recording import faults_beside, moment_given, recorded
from pages.refusals import refuse
from pages.responses import attempt, found_or_404, to_job


class AskForm(forms.Form):
    """An inspection to ask for."""

    kind = forms.ChoiceField(choices=InspectionKind.choices)
    areas = forms.MultipleChoiceField(required=False)
    insist = forms.BooleanField(required=False)

    def __init__(self, job: Job, *args: Any) -> None:
        super().__init__(*args)
        self.by_id = {str(area.id): area for area in job.areas.all()}
        pairs = []
        for key, area in self.by_id.items():
            pairs.append((key, area.name))
        choose_of(self, "areas", pairs)


class HappeningForm(forms.Form):
    """What happened to an inspection, in the time of the job's own place."""

    happening = forms.ChoiceField(choices=Happening.choices)
    day = DayFormField(ANY_DAY, required=False)
    starts = forms.TimeField(required=False)
    ends = forms.TimeField(required=False)
    reference = forms.CharField(required=False, max_length=60)
    note = forms.CharField(required=False, max_length=500)


@login_required
@require_POST
def ask_inspection(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Ask the authority for an inspection."""
    job = found_or_404(job_read, request.user, job_id)
    form = AskForm(job, request.POST)

    def record(given: dict[str, Any]) -> None:
        areas = []
        for key in given["areas"]:
            areas.append(form.by_id[key])
        inspection_ask(
            request.user, job=job, kind=given["kind"], areas=areas, insist=given["insist"]
        )

    return recorded(request, job, form, record, "inspections")


@login_required
@require_POST
def happening(request: SignedIn, inspection_id: UUID) -> HttpResponse:
    """Record what happened to an inspection."""
    inspection = found_or_404(inspection_read, request.user, inspection_id)

    def record(given: dict[str, Any]) -> None:
        with faults_beside({"starts_at": "starts", "ends_at": "ends"}):
            inspection_happen(
                request.user,
                inspection=inspection,
                happening=Happening(given["happening"]),
                starts_at=moment_given(inspection.job, given["day"], given["starts"]),
                ends_at=moment_given(inspection.job, given["day"], given["ends"]),
                reference=given["reference"],
                note=given["note"],
            )

    return recorded(request, inspection.job, HappeningForm(request.POST), record, "inspections")


@login_required
@require_POST
def answer(request: SignedIn, inspection_id: UUID) -> HttpResponse:
    """Record what the inspector said of each area."""
    inspection = found_or_404(inspection_read, request.user, inspection_id)
    fields = _answer_fields(inspection)
    unsaid = {}
    for name in fields.values():
        if request.POST.get(name, "") not in Answer.values:
            unsaid[name] = [say(CHOOSE_RESULT())]
    if unsaid:
        refuse(request, unsaid)
        return to_job(inspection.job_id, "inspections")
    answers: dict[Area, Answer] = {}
    whole = None
    for area, name in fields.items():
        if area is None:
            whole = Answer(request.POST[name])
        else:
            answers[area] = Answer(request.POST[name])
    attempt(
        request,
        inspection_answer,
        inspection=inspection,
        answers=answers,
        answer=whole,
        reference=request.POST.get("reference", "")[:60],
        called=_called(request, _areas_of(inspection)),
        lifted=_lifted(request, inspection),
    )
    return to_job(inspection.job_id, "inspections")


def _areas_of(inspection: Inspection) -> list[Area]:
    """The areas that an inspection is about; one that conceals nothing is about the whole house."""
    if inspection.kind in CONCEALING:
        return list(inspection.areas.all())
    return list(inspection.job.areas.all())


def _answer_fields(inspection: Inspection) -> dict[Area | None, str]:
    """The field of the answer for each area; under None that for the whole house."""
    if inspection.kind not in CONCEALING:
        return {None: "answer"}
    fields: dict[Area | None, str] = {}
    for area in _areas_of(inspection):
        fields[area] = f"answer-{area.code}"
    return fields


def _lifted(request: HttpRequest, inspection: Inspection) -> list[Deficiency]:
    """The deficiencies that the inspector accepted as corrected."""
    lifted: list[Deficiency] = []
    for deficiency in inspection.job.deficiencies.filter(accepted_at__isnull=True):
        if request.POST.get(f"lifted-{deficiency.id}"):
            lifted.append(deficiency)
    return lifted


def _called(request: HttpRequest, areas: list[Area]) -> list[Called]:
    called: list[Called] = []
    for area in areas:
        for what in request.POST.get(f"called-{area.code}", "").splitlines():
            if what.strip():
                called.append(Called(area, what))
    return called


@login_required
@require_POST
def corrected(request: SignedIn, deficiency_id: UUID) -> HttpResponse:
    """Record that a deficiency was corrected."""
    deficiency = found_or_404(deficiency_read, request.user, deficiency_id)
    attempt(request, deficiency_correct, deficiency=deficiency)
    return to_job(deficiency.job_id, "inspections")


@login_required
@require_POST
def settle_site_change(request: SignedIn, site_change_id: UUID) -> HttpResponse:
    """Accept where a box was found to stand, as a revision, or leave the house as it is."""
    found = found_or_404(site_change_read, request.user, site_change_id)
    if "accept" in request.POST:
        answer = attempt(request, site_change_accept, site_change=found)
        if answer:
            messages.success(request, say(RECORDED(number=str(answer.revision))))
    else:
        why = request.POST.get("why", "")[:200]
        attempt(request, site_change_leave, site_change=found, why=why)
    return to_job(found.job_id, "site-changes")

"""What the office records of permits, visits, deficiencies and trades."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from inspections.conclusions.areas import today_at
from inspections.models import CONCEALING, Answer, Happening, Kind
from inspections.selectors import correction_read, deficiency_read, job_read, visit_read
from inspections.services import (
    Called,
    OutOfOrder,
    WouldWithdraw,
    correction_accept,
    correction_leave,
    deficiency_mend,
    inspection_answer,
    inspection_ask,
    inspection_happen,
    insulation_choose,
    milestone_record,
    permit_apply,
    permit_correct,
    permit_extend,
    permit_issue,
    trade_report,
)
from inspections.standing.stages import Milestone
from jobs.forms import GivenDay
from jobs.models import Area, Job, Permit
from jobs.moments import ANY_DAY, PAST_DAY
from pages.asking import attempt, found_or_404
from pages.confirming import confirm
from pages.refused import refuse, valid

TELLS = "Recording it tells the builder, the office and the crew lead."


class PermitForm(forms.Form):
    """A permit applied for, or issued with its number."""

    applied_on = GivenDay(PAST_DAY, required=False)
    number = forms.CharField(required=False, max_length=60)
    issued_on = GivenDay(PAST_DAY, required=False)
    expires_on = GivenDay(ANY_DAY, required=False)


class ExtensionForm(forms.Form):
    """A permit that the authority extended."""

    expires_on = GivenDay(ANY_DAY)
    reference = forms.CharField(required=False, max_length=60)


class CorrectionForm(forms.Form):
    """The day to which a permit is good, corrected; empty: it does not expire."""

    expires_on = GivenDay(ANY_DAY, required=False)
    because = forms.CharField(max_length=200)


class AskForm(forms.Form):
    """A visit to ask for."""

    kind = forms.ChoiceField(choices=Kind.choices)
    areas = forms.MultipleChoiceField(required=False)
    insist = forms.BooleanField(required=False)

    def __init__(self, job: Job, *args: Any) -> None:
        super().__init__(*args)
        self.by_id = {str(area.id): area for area in job.areas.all()}
        self.fields["areas"].choices = [(key, area.name) for key, area in self.by_id.items()]


class HappeningForm(forms.Form):
    """What happened to a visit, in the time of the job's own place."""

    happening = forms.ChoiceField(choices=Happening.choices)
    day = GivenDay(ANY_DAY, required=False)
    starts = forms.TimeField(required=False)
    ends = forms.TimeField(required=False)
    reference = forms.CharField(required=False, max_length=60)
    note = forms.CharField(required=False, max_length=500)


class MilestoneForm(forms.Form):
    """What was reported done for the whole job."""

    milestone = forms.ChoiceField(choices=[(each, each.value) for each in Milestone])
    reached_on = GivenDay(PAST_DAY)
    reference = forms.CharField(required=False, max_length=60)
    temporary_until = GivenDay(ANY_DAY, required=False)


@login_required
@require_POST
def milestone(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Record the hookup, the temporary service gone or the final.

    What speaks against it is said first, and it is recorded once that is confirmed.
    """
    job = found_or_404(job_read, request.user, job_id)

    def record(given: dict[str, Any]) -> None:
        circuits = request.POST.getlist("circuits")
        given["milestone"] = Milestone(given["milestone"])
        milestone_record(request.user, job=job, circuits=circuits, insist=confirmed, **given)

    confirmed = "confirmed" in request.POST
    try:
        return _recorded(request, job, MilestoneForm(request.POST), record)
    except OutOfOrder as order:
        return confirm(request, job, order.says, "Record it all the same", TELLS)


@login_required
@require_POST
def permit(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Record the permit's application, then its issue."""
    job = found_or_404(job_read, request.user, job_id)

    @transaction.atomic  # an application alone would be half of what was typed
    def record(given: dict[str, Any]) -> None:
        kept = getattr(job, "permit", None)
        if kept is None:
            applied_on = given["applied_on"] or given["issued_on"] or _today(job)
            kept = permit_apply(request.user, job=job, applied_on=applied_on)
        if given["number"]:
            permit_issue(
                request.user,
                permit=kept,
                number=given["number"],
                issued_on=given["issued_on"] or _today(job),
                expires_on=given["expires_on"],
            )

    return _recorded(request, job, PermitForm(request.POST), record)


@login_required
@require_POST
def permit_extension(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Record that the authority extended the permit."""
    job = found_or_404(job_read, request.user, job_id)
    kept = _permit_or_404(job)

    def record(given: dict[str, Any]) -> None:
        permit_extend(request.user, permit=kept, **given)

    return _recorded(request, job, ExtensionForm(request.POST), record)


@login_required
@require_POST
def permit_day(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Correct the day to which the permit is good; once confirmed, where it withdraws a release."""
    job = found_or_404(job_read, request.user, job_id)
    kept = _permit_or_404(job)
    confirmed = "confirmed" in request.POST

    def record(given: dict[str, Any]) -> None:
        permit_correct(request.user, permit=kept, withdraws=confirmed, **given)

    try:
        return _recorded(request, job, CorrectionForm(request.POST), record)
    except WouldWithdraw as consequence:
        button = "Correct the day and withdraw the release"
        return confirm(request, job, [str(consequence)], button)


def _permit_or_404(job: Job) -> Permit:
    kept = getattr(job, "permit", None)
    if kept is None:
        raise Http404
    return kept


@login_required
@require_POST
def ask(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Ask the authority for a visit."""
    job = found_or_404(job_read, request.user, job_id)
    form = AskForm(job, request.POST)

    def record(given: dict[str, Any]) -> None:
        areas = []
        for key in given["areas"]:
            areas.append(form.by_id[key])
        inspection_ask(
            request.user, job=job, kind=given["kind"], areas=areas, insist=given["insist"]
        )

    return _recorded(request, job, form, record)


@login_required
@require_POST
def happening(request: HttpRequest, visit_id: UUID) -> HttpResponse:
    """Record what happened to a visit."""
    visit = found_or_404(visit_read, request.user, visit_id)

    def record(given: dict[str, Any]) -> None:
        with _beside({"starts_at": "starts", "ends_at": "ends"}):
            inspection_happen(
                request.user,
                inspection=visit,
                happening=Happening(given["happening"]),
                starts_at=_moment(visit.job, given["day"], given["starts"]),
                ends_at=_moment(visit.job, given["day"], given["ends"]),
                reference=given["reference"],
                note=given["note"],
            )

    return _recorded(request, visit.job, HappeningForm(request.POST), record)


@login_required
@require_POST
def answer(request: HttpRequest, visit_id: UUID) -> HttpResponse:
    """Record what the inspector said of each area."""
    visit = found_or_404(visit_read, request.user, visit_id)
    by_area = visit.kind in CONCEALING
    areas = list(visit.areas.all() if by_area else visit.job.areas.all())
    lifted = []
    for each in visit.job.deficiencies.filter(accepted_at__isnull=True):
        if request.POST.get(f"lifted-{each.id}"):
            lifted.append(each)
    if by_area:
        fields = {}
        for area in areas:
            fields[area] = f"answer-{area.code}"
    else:
        fields = {None: "answer"}
    said = {}
    for of, name in fields.items():
        said[of] = request.POST.get(name, "")
    unsaid = []
    for of, word in said.items():
        if word not in Answer.values:
            unsaid.append(fields[of])
    if unsaid:
        refuse(request, {name: ["Choose an answer."] for name in unsaid})
    else:
        answer = said.pop(None, None)
        attempt(
            request,
            inspection_answer,
            inspection=visit,
            answers={area: Answer(word) for area, word in said.items()},
            answer=answer and Answer(answer),
            reference=request.POST.get("reference", "")[:60],
            called=_called(request, areas),
            lifted=lifted,
        )
    return redirect("job", job_id=visit.job_id)


def _called(request: HttpRequest, areas: list[Area]) -> list[Called]:
    called: list[Called] = []
    for area in areas:
        for what in request.POST.get(f"called-{area.code}", "").splitlines():
            if what.strip():
                called.append(Called(area, what))
    return called


@login_required
@require_POST
def mended(request: HttpRequest, deficiency_id: UUID) -> HttpResponse:
    """Record that a deficiency was mended."""
    deficiency = found_or_404(deficiency_read, request.user, deficiency_id)
    attempt(request, deficiency_mend, deficiency=deficiency)
    return redirect("job", job_id=deficiency.job_id)


@login_required
@require_POST
def trade(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Record that another trade's rough-in, or a layer of the cover, is done."""
    job = found_or_404(job_read, request.user, job_id)
    area = None
    for a in job.areas.all():
        if str(a.id) == request.POST.get("area"):
            area = a
            break
    attempt(request, trade_report, job=job, trade=request.POST.get("trade", ""), area=area)
    return redirect("job", job_id=job.id)


@login_required
@require_POST
def insulation(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Record what fills the outside walls."""
    job = found_or_404(job_read, request.user, job_id)
    kind, barrier = request.POST.get("kind", ""), "vapour_barrier" in request.POST
    attempt(request, insulation_choose, job=job, kind=kind, vapour_barrier=barrier)
    return redirect("job", job_id=job.id)


@login_required
@require_POST
def correction(request: HttpRequest, correction_id: UUID) -> HttpResponse:
    """Accept where a box was found to stand, as a revision, or leave the house as it is."""
    found = found_or_404(correction_read, request.user, correction_id)
    if "accept" in request.POST:
        answer = attempt(request, correction_accept, correction=found)
        if answer:
            messages.success(request, f"Recorded as revision {answer.revision}.")
    else:
        why = request.POST.get("why", "")[:200]
        attempt(request, correction_leave, correction=found, why=why)
    return redirect("job", job_id=found.job_id)


def _recorded(
    request: HttpRequest, job: Job, form: forms.Form, record: Callable[[dict[str, Any]], None]
) -> HttpResponse:
    """Do what the form asks for if it is right; the answer says what is not."""
    given = valid(request, form)
    if given is not None:
        attempt(request, lambda _person: record(given))
    return redirect("job", job_id=job.id)


@contextmanager
def _beside(fields: dict[str, str]) -> Iterator[None]:
    """Faults of a service beside the fields of the form that it was asked from."""
    try:
        yield
    except ValidationError as fault:
        if not hasattr(fault, "error_dict"):
            raise
        named = {}
        for name, said in fault.message_dict.items():
            named[fields.get(name, name)] = said
        raise ValidationError(named) from fault


def _today(job: Job) -> date:
    return today_at(job, timezone.now())


def _moment(job: Job, day: date | None, hour: Any) -> datetime | None:
    if day is None or hour is None:
        return None
    return datetime.combine(day, hour, ZoneInfo(job.time_zone))

"""What the office records of a permit and of milestones."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import Http404, HttpResponse
from django.views.decorators.http import require_POST

from config.languages import say
from inspections.selectors import job_read
from inspections.services.consequences import OutOfOrder, WouldWithdraw
from inspections.services.milestones import milestone_record
from inspections.services.permits import permit_apply, permit_correct, permit_extend, permit_issue
from inspections.standing.stages import Milestone
from jobs.forms import DayFormField
from jobs.models import Job, Permit
from jobs.moments import ANY_DAY, PAST_DAY
from jobs.requests import SignedIn
from pages.confirmation import confirm
from pages.jobs.page_messages import CORRECT_AND_WITHDRAW, MILESTONE_TELLS, RECORD_ANYWAY
from pages.jobs.recording import recorded, today_of
from pages.responses import found_or_404


class PermitForm(forms.Form):
    """A permit applied for, or issued with its number."""

    applied_on = DayFormField(PAST_DAY, required=False)
    number = forms.CharField(required=False, max_length=60)
    issued_on = DayFormField(PAST_DAY, required=False)
    expires_on = DayFormField(ANY_DAY, required=False)


class ExtensionForm(forms.Form):
    """A permit that the authority extended."""

    expires_on = DayFormField(ANY_DAY)
    reference = forms.CharField(required=False, max_length=60)


class PermitDayForm(forms.Form):
    """The day to which a permit is good, corrected; empty: it does not expire."""

    expires_on = DayFormField(ANY_DAY, required=False)
    because = forms.CharField(max_length=200)


class MilestoneForm(forms.Form):
    """What was reported done for the whole job."""

    milestone = forms.ChoiceField(choices=[(each, each.value) for each in Milestone])
    reached_on = DayFormField(PAST_DAY)
    reference = forms.CharField(required=False, max_length=60)
    temporary_until = DayFormField(ANY_DAY, required=False)


@login_required
@require_POST
def milestone(request: SignedIn, job_id: UUID) -> HttpResponse:
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
        return recorded(request, job, MilestoneForm(request.POST), record, "after-cover")
    except OutOfOrder as order:
        return confirm(request, job, order.says, say(RECORD_ANYWAY()), say(MILESTONE_TELLS()))


@login_required
@require_POST
def permit(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Record the permit's application, then its issue."""
    job = found_or_404(job_read, request.user, job_id)

    @transaction.atomic  # an application alone would be half of what was typed
    def record(given: dict[str, Any]) -> None:
        kept: Permit | None = getattr(job, "permit", None)
        if kept is None:
            applied_on = given["applied_on"] or given["issued_on"] or today_of(job)
            kept = permit_apply(request.user, job=job, applied_on=applied_on)
        if given["number"]:
            permit_issue(
                request.user,
                permit=kept,
                number=given["number"],
                issued_on=given["issued_on"] or today_of(job),
                expires_on=given["expires_on"],
            )

    return recorded(request, job, PermitForm(request.POST), record, "permit")


@login_required
@require_POST
def permit_extension(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Record that the authority extended the permit."""
    job = found_or_404(job_read, request.user, job_id)
    kept = _permit_or_404(job)

    def record(given: dict[str, Any]) -> None:
        permit_extend(request.user, permit=kept, **given)

    return recorded(request, job, ExtensionForm(request.POST), record, "permit")


@login_required
@require_POST
def permit_day(request: SignedIn, job_id: UUID) -> HttpResponse:
    """Correct the day to which the permit is good; once confirmed, where it withdraws a release."""
    job = found_or_404(job_read, request.user, job_id)
    kept = _permit_or_404(job)
    confirmed = "confirmed" in request.POST

    def record(given: dict[str, Any]) -> None:
        permit_correct(request.user, permit=kept, withdraws=confirmed, **given)

    try:
        return recorded(request, job, PermitDayForm(request.POST), record, "permit")
    except WouldWithdraw as consequence:
        button = say(CORRECT_AND_WITHDRAW())
        return confirm(request, job, [str(consequence)], button)


def _permit_or_404(job: Job) -> Permit:
    kept: Permit | None = getattr(job, "permit", None)
    if kept is None:
        raise Http404
    return kept

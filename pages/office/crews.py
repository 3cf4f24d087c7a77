"""The office keeps crews, people's skills, absences, and how the shop works."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from config.generics import ModelForm
from config.languages import said_later
from inspections.days.problem import work_rules
from jobs.forms import DayFormField
from jobs.models import Absence, Crew, PersonSkill, Role, Shop, Skill, WorkRules
from jobs.moments import ANY_DAY
from jobs.requests import SignedIn
from jobs.services.crews import (
    absence_end,
    absence_record,
    crew_open,
    crew_place,
    drive_times_load,
    skill_set,
    work_rules_change,
)
from pages.fields import ClosuresField, WeekdaysField
from pages.office.labels import NO_MINUTES, WORK_RULES
from pages.refusals import valid
from pages.responses import attempt, office_shop


class PersonForm(forms.Form):
    """A person of the shop, with days and whatever else is recorded of them."""

    person = forms.UUIDField(required=False)
    name = forms.CharField(required=False, max_length=60)
    skill = forms.ChoiceField(choices=Skill.choices, required=False)
    gone = forms.BooleanField(required=False)
    from_day = DayFormField(ANY_DAY, required=False)
    to_day = DayFormField(ANY_DAY, required=False)
    why = forms.CharField(required=False, max_length=120)


class RatesField(forms.CharField):
    """Rates, one a line: the name, then minutes."""

    widget = forms.Textarea

    def prepare_value(self, value: Any) -> Any:
        """The rates as lines."""
        if isinstance(value, dict):
            parts = []
            for name, minutes in value.items():
                parts.append(f"{name} {minutes:g}")
            return "\n".join(parts)
        return value

    def to_python(self, value: Any) -> Any:
        """The lines as rates; a line without a number is named."""
        found = {}
        for line in str(value or "").splitlines():
            name, _, minutes = line.strip().rpartition(" ")
            try:
                found[name.strip()] = float(minutes)
            except ValueError:
                wrong = NO_MINUTES(line=line.strip())
                raise forms.ValidationError(said_later(wrong)) from None
        return found


class WorkRulesForm(ModelForm[WorkRules]):
    """Everything that a shop's work rules hold."""

    works_on = WeekdaysField(label=WORK_RULES["works_on"])
    closures = ClosuresField(required=False, label=WORK_RULES["closures"])
    rates = RatesField(label=WORK_RULES["rates"])

    class Meta:
        model = WorkRules
        fields = [
            "works_on", "from_hour", "parts", "part_minutes", "break_minutes", "country", "region",
            "closures", "weeks", "cover_days", "apprentices_per_licensed", "change_cost",
            "speed_kmh", "yard_latitude", "yard_longitude", "rates",
        ]  # fmt: skip
        labels = WORK_RULES


@login_required
@require_GET
def crews(request: SignedIn) -> HttpResponse:
    """The shop's crews, who is in them, who is away."""
    shop = office_shop(request)
    found = Crew.objects.filter(shop=shop).select_related("lead")
    members = shop.memberships.exclude(role=Role.BUILDER).select_related("person")
    made = []
    for crew in found:
        made.append((crew, crew.places.select_related("person")))
    people = []
    for each in members.order_by("id"):
        people.append(each.person)
    context = {
        "shop": shop,
        "crews": made,
        "people": people,
        "skills": PersonSkill.objects.filter(shop=shop),
        "skill_choices": Skill.choices,
        "absences": Absence.objects.filter(shop=shop).select_related("person"),
    }
    return render(request, "office/crews.html", context)


def _record(request: SignedIn, write: Callable[[Shop, dict[str, Any]], None]) -> HttpResponse:
    """Read the form, find the person among the shop's own, write, and go back."""
    shop = office_shop(request)
    given = valid(request, PersonForm(request.POST))
    if given is not None:
        member = shop.memberships.filter(person=given["person"]).select_related("person").first()
        if member:
            given["person"] = member.person
        else:
            given["person"] = None
        write(shop, given)
    return redirect("crews")


@login_required
@require_POST
def open_crew(request: SignedIn) -> HttpResponse:
    """Open a crew."""
    return _record(
        request,
        lambda shop, given: attempt(
            request, crew_open, shop=shop, name=given["name"], lead=given["person"]
        ),
    )


@login_required
@require_POST
def place(request: SignedIn, crew_id: UUID) -> HttpResponse:
    """Put a person in a crew."""

    def write(shop: Shop, given: dict[str, Any]) -> None:
        crew = Crew.objects.filter(shop=shop, id=crew_id).first()
        if crew is None or given["person"] is None:
            raise Http404
        days = {"from_day": given["from_day"], "to_day": given["to_day"]}
        attempt(request, crew_place, crew=crew, person=given["person"], **days)

    return _record(request, write)


@login_required
@require_POST
def skill(request: SignedIn) -> HttpResponse:
    """Record a skill, or that it is gone."""

    def write(shop: Shop, given: dict[str, Any]) -> None:
        if given["person"] is None or not given["skill"]:
            raise Http404
        attempt(
            request,
            skill_set,
            shop=shop,
            person=given["person"],
            skill=given["skill"],
            has=not given["gone"],
        )

    return _record(request, write)


@login_required
@require_POST
def absence(request: SignedIn) -> HttpResponse:
    """Record that somebody is away."""

    def write(shop: Shop, given: dict[str, Any]) -> None:
        if given["person"] is None:
            raise Http404
        kept = {}
        for name in ("person", "from_day", "to_day", "why"):
            kept[name] = given[name]
        attempt(request, absence_record, shop=shop, **kept)

    return _record(request, write)


@login_required
@require_POST
def end_absence(request: SignedIn, absence_id: UUID) -> HttpResponse:
    """Somebody is not away after all."""
    shop = office_shop(request)
    found = Absence.objects.filter(shop=shop, id=absence_id).first()
    if found is None:
        raise Http404
    attempt(request, absence_end, absence=found)
    return redirect("crews")


@login_required
@require_http_methods(["GET", "POST"])
def set_work_rules(request: SignedIn) -> HttpResponse:
    """Days, hours, rates, ratio and speed."""
    shop = office_shop(request)
    form = WorkRulesForm(request.POST or None, instance=work_rules(shop))
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None:
        rules = {}
        for name in form.Meta.fields:
            rules[name] = given[name]
        if attempt(request, work_rules_change, shop=shop, **rules) is not None:
            return redirect("crews")
    return render(request, "office/work_rules.html", {"form": form, "shop": shop})


@login_required
@require_POST
def drive_times(request: SignedIn) -> HttpResponse:
    """Load driving times."""
    shop = office_shop(request)
    attempt(request, drive_times_load, shop=shop, table=request.POST.get("table", ""))
    return redirect("work-rules")

"""The office edits what an authority asks before it comes, and when it comes."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from config.generics import ModelForm
from jobs.models import Authority, Role
from jobs.requests import SignedIn
from jobs.selectors import authorities_of, authority_get, shops_with_role
from jobs.services.authorities import authority_add, authority_change, authority_templates
from pages.fields import ClosuresField, WeekdaysField, choose_of
from pages.refusals import valid
from pages.responses import attempt, found_or_404, office_shop


class AuthorityForm(ModelForm[Authority]):
    """Everything that an authority's entry holds."""

    works_on = WeekdaysField()
    inspections_on = WeekdaysField()
    closures = ClosuresField(required=False)

    class Meta:
        model = Authority
        fields = [
            "name",
            "notice_days",
            "notice_hours",
            "cut_off",
            "works_on",
            "inspections_on",
            "from_hour",
            "to_hour",
            "country",
            "region",
            "closures",
            "reinspection_fee",
            "idle_days",
            "takes_parts",
            "elapsed_hours",
            "source",
        ]
        labels = {
            "notice_days": "notice in working days",
            "notice_hours": "and in hours, on working days",
            "cut_off": "a request counts that day until",
            "works_on": "the office works on",
            "inspections_on": "this district is visited on",
            "from_hour": "visits from",
            "to_hour": "visits until",
            "country": "country, for its holidays (CA, US)",
            "region": "province or state (AB, WA)",
            "closures": "closed besides, one a line: date, then why",
            "reinspection_fee": "fee for a visit again",
            "idle_days": "a permit ends after so many days without a visit",
            "takes_parts": "takes a rough-in area by area",
            "elapsed_hours": "hours after which work may be covered when nobody came "
            "(leave empty unless this authority says so; the licence holder must sign)",
            "source": "where these were read",
        }


@login_required
@require_http_methods(["GET", "POST"])
def authority(request: SignedIn, authority_id: UUID) -> HttpResponse:
    """Edit one authority."""
    kept = found_or_404(authority_get, request.user, authority_id)
    form = AuthorityForm(request.POST or None, instance=kept)
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None:
        rules = {}
        for name in form.Meta.fields:
            rules[name] = given[name]
        if attempt(request, authority_change, authority=kept, **rules):
            return redirect("authorities")
    templates = authority_templates().values()
    return render(
        request, "office/authority.html", {"form": form, "kept": kept, "templates": templates}
    )


class NewAuthorityForm(forms.Form):
    """An authority's name, and what to start from."""

    name = forms.CharField(max_length=120)
    template = forms.ChoiceField(required=False, label="start from")

    def __init__(self, *args: Any) -> None:
        super().__init__(*args)
        published = []
        for key, each in authority_templates().items():
            published.append((key, each["title"]))
        choose_of(self, "template", [("", "nothing that others published"), *published])


@login_required
@require_http_methods(["GET", "POST"])
def authority_new(request: SignedIn) -> HttpResponse:
    """Add an authority; its rules are put right on the page that follows."""
    shop = office_shop(request)
    form = NewAuthorityForm(request.POST or None)
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None:
        made = attempt(request, lambda person: authority_add(actor=person, shop=shop, **given))
        if made:
            return redirect("authority", made.id)
    return render(request, "office/authority_new.html", {"form": form, "shop": shop})


@login_required
@require_http_methods(["GET"])
def authorities(request: SignedIn) -> HttpResponse:
    """The authorities of the shops that the reader keeps the office of."""
    office = shops_with_role(request.user, Role.OFFICE).exists()
    context = {"authorities": authorities_of(request.user), "office": office}
    return render(request, "office/authorities.html", context)

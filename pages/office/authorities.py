"""The office edits what an authority requires before it comes, and when it comes."""

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
from pages.office.labels import AUTHORITY, NOTHING_PUBLISHED, START_FROM
from pages.refusals import valid
from pages.responses import attempt, found_or_404, office_shop


class AuthorityForm(ModelForm[Authority]):
    """Everything that an authority's entry holds."""

    works_on = WeekdaysField(label=AUTHORITY["works_on"])
    inspections_on = WeekdaysField(label=AUTHORITY["inspections_on"])
    closures = ClosuresField(required=False, label=AUTHORITY["closures"])

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
        labels = AUTHORITY


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
    template = forms.ChoiceField(required=False, label=START_FROM)

    def __init__(self, *args: Any) -> None:
        super().__init__(*args)
        published = []
        for key, each in authority_templates().items():
            published.append((key, each["title"]))
        choose_of(self, "template", [("", NOTHING_PUBLISHED), *published])


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

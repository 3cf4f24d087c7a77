"""The office's day: what needs a call or a decision, and the coming three weeks."""

from collections.abc import Sequence
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import Q, QuerySet
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from inspections.overview.office_day import office_calendar, office_lines, open_jobs
from inspections.standing.stages import Stage
from jobs.models import Authority, Builder, Job, Person, Role, Shop
from jobs.requests import SignedIn
from jobs.selectors import shops_with_role
from pages.fields import choose_among
from pages.office.labels import FIND

DAYS, ROWS, MOST = 21, 25, 40
STAGES = [(stage.value, stage.value) for stage in Stage]


class SieveForm(forms.Form):
    """Which jobs to show."""

    find = forms.CharField(required=False, max_length=80, label=FIND)
    builder = forms.ModelChoiceField(Builder.objects.none(), required=False)
    authority = forms.ModelChoiceField(Authority.objects.none(), required=False)
    crew_lead = forms.ModelChoiceField(Person.objects.none(), required=False)
    stage = forms.ChoiceField(required=False, choices=[("", "---------"), *STAGES])

    def __init__(self, shops: Sequence[Shop], *args: Any) -> None:
        super().__init__(*args)
        choose_among(self, "builder", Builder.objects.filter(shop__in=shops))
        choose_among(self, "authority", Authority.objects.filter(shop__in=shops))
        leads = Person.objects.filter(led_jobs__shop__in=shops).distinct()
        choose_among(self, "crew_lead", leads)

    def sieve(self, jobs: QuerySet[Job]) -> QuerySet[Job]:
        """The jobs that match all that was chosen; a field that is wrong sieves nothing."""
        self.is_valid()
        chosen = self.cleaned_data
        for name in ("builder", "authority", "crew_lead"):
            if chosen.get(name):
                jobs = jobs.filter(**{name: chosen[name]})
        if chosen.get("stage"):
            jobs = jobs.filter(standing__stage=chosen["stage"])
        if words := chosen.get("find"):
            named = Q(name__icontains=words) | Q(address__icontains=words)
            jobs = jobs.filter(named | Q(permit__number__icontains=words))
        return jobs


@login_required
@require_GET
def today(request: SignedIn) -> HttpResponse:
    """Lines for the office, the most costly first, over a calendar of houses and days."""
    shops = list(shops_with_role(request.user, Role.OFFICE))
    if not shops:
        raise Http404
    form, now = SieveForm(shops, request.GET), timezone.now()
    jobs = open_jobs(form.sieve(Job.objects.filter(shop__in=shops)), now)
    first = now.astimezone(ZoneInfo(shops[0].time_zone)).date()
    days = []
    for n in range(DAYS):
        days.append(first + timedelta(days=n))
    lines = office_lines(jobs, now)
    page = Paginator(jobs, ROWS).get_page(request.GET.get("page"))
    query = request.GET.copy()
    query.pop("page", None)
    rows = []
    for each in page:
        rows.append((each, office_calendar(each, days)))
    context = {
        "form": form,
        "lines": lines[:MOST],
        "more": max(0, len(lines) - MOST),
        "days": days,
        "page": page,
        "rows": rows,
        "query": query.urlencode(),
    }
    return render(request, "office/today.html", context)

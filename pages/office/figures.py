"""The office's figures, and the jobs behind each number."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from inspections.overview.figures import figure_row, figures_of, jobs_of_row
from jobs.requests import SignedIn
from pages.responses import office_shop


@login_required
@require_GET
def shop_figures(request: SignedIn) -> HttpResponse:
    """Every figure of the shop, as a table with its share drawn beside it."""
    shop = office_shop(request)
    context = {"shop": shop, "figures": figures_of(shop, timezone.now())}
    return render(request, "office/figures.html", context)


@login_required
@require_GET
def behind(request: SignedIn, key: str) -> HttpResponse:
    """The jobs that one number is made of."""
    shop = office_shop(request)
    found = figure_row(figures_of(shop, timezone.now()), key, request.GET.get("of", ""))
    if found is None:
        raise Http404
    figure, row = found
    context = {"shop": shop, "figure": figure, "row": row, "jobs": jobs_of_row(shop, row)}
    return render(request, "office/figure_jobs.html", context)

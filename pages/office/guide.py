"""From an empty shop to the first checked house, step by step."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from jobs.requests import SignedIn
from pages.office.first_steps import first_steps
from pages.responses import office_shop


@login_required
@require_GET
def guide(request: SignedIn) -> HttpResponse:
    """From an empty shop to the first checked house: what is done and what comes next."""
    shop = office_shop(request)
    steps = first_steps(shop)
    following = None
    for step in steps:
        if not step.done:
            following = step
            break
    first = shop.jobs.order_by("id").first()
    context = {"shop": shop, "steps": steps, "following": following, "job": first}
    return render(request, "office/guide.html", context)

"""The office asks for a plan and sees it come, without loading the page anew."""

import pytest
from playwright.sync_api import expect

from inspections.days.services import plan_ask, plan_make
from jobs.signals import plan_asked
from tests.browser.test_tour import page, sign_in
from tests.clocks import house_day
from tests.days.crewed import EFFORT, crewed

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
__all__ = ["page"]


def test_a_plan_comes_to_whoever_waits_for_it(
    page, live_server, shop, house_bytes, monkeypatch
) -> None:
    crewed(shop)
    shop.roughed_in(house_bytes)
    monkeypatch.setattr(plan_asked, "send", lambda **_: None)  # the worker is slow today
    plan = plan_ask(shop.office, shop=shop.shop, first_day=house_day())
    sign_in(page, live_server.url, shop.office)
    page.goto(f"{live_server.url}/plan/{plan.id}/")
    expect(page.get_by_text("Working on this plan.")).to_be_visible()
    plan_make(plan.id, EFFORT)
    expect(page.get_by_text("Crew workload")).to_be_visible(timeout=10_000)

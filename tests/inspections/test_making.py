"""A plan or a pack whose making breaks ends in words, and the page offers to ask again."""

from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import pytest
from django.db import OperationalError
from django.urls import reverse
from django.utils import timezone

from config.languages import say
from config.messages.stored import to_json
from inspections.days.services import plan_ask, plan_make, plans_due
from inspections.models import Pack
from inspections.services.background import BROKE, TRIES
from inspections.services.packs import pack_ask, pack_make, packs_due
from jobs.models import Plan
from pages.forms_in import forms_in
from tests.clocks import house_day

pytestmark = pytest.mark.django_db
FIRST = house_day(3)


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture(params=["plan", "pack"])
def made(request, shop, job, monkeypatch) -> SimpleNamespace:
    """Something that a worker makes, and how to have that raise."""
    if request.param == "plan":
        row = plan_ask(shop.office, shop=shop.shop, first_day=FIRST)
        place, make, due = "jobs.planning.planner.best_plan", plan_make, plans_due
    else:
        row = pack_ask(shop.office, job=job, kind="inspector")
        place, make, due = "inspections.services.packs.bundle_pdf", pack_make, packs_due

    def breaks(error: Exception) -> None:
        def raises(*_: Any, **__: Any) -> None:
            raise error

        monkeypatch.setattr(place, raises)

    path = reverse(request.param, args=[row.id])
    return SimpleNamespace(row=row, breaks=breaks, make=make, due=due, path=path)


def asked_again(client, path: str):
    """The form of a page that asks for the same once more, sent."""
    page = client.get(path).text
    assert say(BROKE(), "en") in page
    assert "hx-get" not in page
    form = next(each for each in forms_in(page) if page[each.end :].find("again<") in range(600))
    sent = {each.name: each.value for each in form.controls if each.kind == "hidden"}
    return client.post(form.attributes["action"], sent)


def test_what_breaks_fails_in_words_and_can_be_asked_for_again(
    client, shop, made, caplog, monkeypatch
) -> None:
    client.force_login(shop.office)
    made.breaks(IndexError("Cannot choose from an empty sequence"))
    assert made.make(made.row.id).state == "failed"
    assert "could not be made" in caplog.text
    assert made.due(timezone.now() + timedelta(hours=1)) == []
    monkeypatch.undo()
    assert asked_again(client, made.path).status_code == 302
    rows = shop.own(type(made.row)).exclude(id=made.row.id)
    assert [row.state for row in rows] == ["asked"]


def test_one_that_ends_its_worker_each_time_is_given_up(client, shop, made) -> None:
    client.force_login(shop.office)
    for _ in range(TRIES):
        made.breaks(OperationalError("server closed the connection"))  # as a worker that dies
        with pytest.raises(OperationalError):
            made.make(made.row.id)
        made.row.refresh_from_db()
        assert made.row.state == "asked"
        type(made.row).objects.filter(id=made.row.id).update(begun_at=None)
    assert made.due(timezone.now() + timedelta(minutes=2)) == [made.row.id]
    assert made.make(made.row.id).state == "failed"
    assert say(BROKE(), "en") in client.get(made.path).text


def test_a_plan_that_supposed_something_is_asked_for_with_the_same(client, shop, job) -> None:
    client.force_login(shop.office)
    day = FIRST.isoformat()
    away = {"first_day": day, "what": "away", "who": str(shop.lead.id)}
    client.post(reverse("plan-ask"), away | {"from_day": day, "to_day": day})
    plan = shop.own(Plan).get()
    Plan.objects.filter(id=plan.id).update(state=Plan.State.FAILED, faults=[to_json(BROKE())])
    assert asked_again(client, reverse("plan", args=[plan.id])).status_code == 302
    again = shop.own(Plan).exclude(id=plan.id).get()
    assert (again.first_day, again.supposing) == (FIRST, plan.supposing)
    assert shop.own(Pack).count() == 0

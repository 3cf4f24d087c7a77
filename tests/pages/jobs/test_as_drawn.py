"""A room is confirmed as drawn at the desk: what is ticked, as it was shown, and nothing else."""

import re

import pytest
from django.urls import reverse
from django.utils.html import escape

from config.messages.kept import in_english
from inspections.models import Item, Observation, Outcome
from inspections.services.observations import item_observe
from tests.inspections.tiny import HOUSES
from tests.pages.jobs.test_walk import send, tick

pytestmark = pytest.mark.django_db
SUMMARY = re.compile(r"(\d+) checks? OK on plan, not confirmed on site")
TICKED = '<input type="checkbox" name="item" value="{item.id} {item.fingerprint}" checked>'


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def drawn(job) -> list[Item]:
    """What is as drawn in one room."""
    rough = job.items.filter(workmanship=True, verdict="ok", stage="rough-in")
    return list(rough.filter(finding__room="east"))


def confirm(client, job, items, **given):
    values = [f"{item.id} {item.fingerprint}" for item in items]
    return client.post(reverse("as-drawn", args=[job.id]), {"item": values, "room": "east"} | given)


def room_page(client, job) -> str:
    """The page of the job with the room opened."""
    page: str = client.get(reverse("job", args=[job.id]), {"room": "east"}).text
    return page


def test_a_room_says_how_much_is_ok_on_plan_and_ticks_each_line(client, shop, job, drawn) -> None:
    client.force_login(shop.member)
    page = room_page(client, job)
    assert str(len(drawn)) in SUMMARY.findall(page)
    for item in drawn:
        assert page.count(TICKED.format(item=item)) == 1
        assert escape(in_english(item.finding["says"])) in page
        assert f'id="item-{item.id}"' not in page


def test_the_ticked_are_confirmed_and_no_other(client, shop, job, drawn) -> None:
    client.force_login(shop.member)
    left, *ticked = drawn
    answer = confirm(client, job, ticked, note="walked with the plan")
    assert answer.status_code == 302
    made = shop.own(Observation).filter(outcome="ok")
    assert {seen.item_id for seen in made} == {item.id for item in ticked}
    kept = {(seen.note, seen.seen_by, seen.given) for seen in made}
    assert kept == {("walked with the plan", shop.member, "room")}
    page = room_page(client, job)
    assert TICKED.format(item=left) in page
    assert f"{len(ticked)} OK on site" in page
    for item in ticked:
        assert TICKED.format(item=item) not in page


def test_changed_facts_are_refused_and_what_was_typed_is_kept(client, shop, job, drawn) -> None:
    client.force_login(shop.member)
    changed, unticked, *others = drawn
    seen = [changed, *others]
    values = [f"{item.id} {item.fingerprint}" for item in seen]
    Item.objects.filter(id=changed.id).update(fingerprint="0123456789abcdef")
    given = {"item": values, "room": "east", "note": "by the panel"}
    answer = client.post(reverse("as-drawn", args=[job.id]), given)
    assert answer.status_code == 422
    assert "the house has changed since this was shown" in answer.text
    assert 'value="by the panel"' in answer.text
    assert not shop.own(Observation).exists()
    for item in others:
        assert TICKED.format(item=item) in answer.text
    for item in (changed, unticked):  # the one is read again, the other was taken out
        assert re.search(rf'value="{item.id} [0-9a-f]+">', answer.text)


@pytest.mark.parametrize("given", [{}, {"item": "neither"}, {"item": "0 0"}])
def test_without_a_line_of_the_checklist_nothing_is_recorded(client, shop, job, given) -> None:
    client.force_login(shop.lead)
    answer = client.post(reverse("as-drawn", args=[job.id]), {"note": "all of it"} | given)
    assert answer.status_code == 422
    assert "Tick at least one line that is on the checklist." in answer.text
    assert "all of it" in answer.text
    assert not shop.own(Observation).exists()


def test_facts_that_nobody_was_shown_are_not_confirmed(client, shop, job, drawn) -> None:
    client.force_login(shop.member)
    given = {"item": [str(item.id) for item in drawn]}
    assert client.post(reverse("as-drawn", args=[job.id]), given).status_code == 422
    assert not shop.own(Observation).exists()


def test_an_item_of_another_job_is_none_of_this_one(client, shop, job, drawn) -> None:
    other = shop.roughed_in(HOUSES["clean"])
    client.force_login(shop.member)
    assert confirm(client, other, drawn).status_code == 422
    assert not shop.own(Observation).exists()


def test_only_the_shops_own_people_confirm(client, shop, stranger_shop, job, drawn) -> None:
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert confirm(client, job, drawn).status_code == 404
    assert not shop.own(Observation).exists()


def test_what_is_not_as_drawn_has_a_line_of_its_own(client, shop, job, drawn) -> None:
    item_observe(shop.lead, item=drawn[0], outcome=Outcome.FIX, note="moved")
    client.force_login(shop.member)
    page = room_page(client, job)
    assert drawn[0].id.hex not in "".join(re.findall(r'name="item" value="(\S+)', page))
    assert TICKED.format(item=drawn[0]) not in page
    assert f'id="item-{drawn[0].id}"' in page


def test_one_that_needs_a_photograph_is_answered_by_itself(client, shop, job, drawn) -> None:
    shop.shop.photo_rules = [drawn[0].rule]
    shop.shop.save()
    client.force_login(shop.member)
    page = room_page(client, job)
    assert TICKED.format(item=drawn[0]) not in page
    assert f'id="item-{drawn[0].id}"' in page
    data = client.get(reverse("walk-data", args=[job.id])).json()
    found = {item["id"]: item for room in data["rooms"] for item in room["items"]}
    assert not found[str(drawn[0].id)]["as_drawn"]
    assert sum(item["as_drawn"] for item in found.values())


def test_a_phone_is_told_what_is_as_drawn_until_it_is_confirmed(client, shop, job, drawn) -> None:
    client.force_login(shop.member)

    def told() -> dict[str, bool]:
        data = client.get(reverse("walk-data", args=[job.id])).json()
        return {i["id"]: i["as_drawn"] for room in data["rooms"] for i in room["items"]}

    before = told()
    assert all(before[str(item.id)] for item in drawn)
    rough = job.items.filter(current=True, stage="rough-in")
    apart = rough.exclude(verdict="ok", workmanship=True)
    assert not any(before[str(item.id)] for item in apart)
    answer = send(client, job, *[tick(item, given="room") for item in drawn])
    assert {each["state"] for each in answer.json()["taken"]} == {"kept"}
    assert not any(told()[str(item.id)] for item in drawn)
    assert {seen.given for seen in shop.own(Observation)} == {"room"}

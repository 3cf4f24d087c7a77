"""A fault that withdraws a release: said before, confirmed, and undone by whoever slipped."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from inspections.models import CoverRelease, Item, Observation, Outcome
from inspections.services.consequences import WouldWithdraw
from inspections.services.cover_releases import cover_release_issue
from inspections.services.houses import house_record
from inspections.services.observations import item_observe, items_observe, observation_undo
from inspections.services.permits import permit_extend
from jobs.access import NotAllowed
from jobs.models import Area
from pages.jobs.room_rows import item_address
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import the_first

pytestmark = pytest.mark.django_db
SAYS = (
    "This withdraws the cover release of East. The builder, the office and the crew lead are "
    "notified."
)
UNDO = "Undo: recorded by mistake"


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(datetime(2026, 6, 8, 15, 0, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(shop, clock):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def area(shop, job):
    found = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(found)
    return found


@pytest.fixture
def item(area: Area, clock) -> Item:
    """One that was seen and passed."""
    clock.now += timedelta(hours=1)
    looks = area.items.filter(verdict="verify", stage=Item.Stage.ROUGH_IN)
    return the_first(looks.select_related("job__shop"))


def tap(client, item, outcome="fix", **given: Any):
    given = {"outcome": outcome, "shown": item.fingerprint} | given
    return client.post(reverse("observe", args=[item.id]), given)


def live(area) -> bool:
    return CoverRelease.objects.filter(area=area, withdrawn_at=None).exists()


@pytest.mark.parametrize("outcome", ["fix", "cant_see"])
def test_the_first_tap_says_what_it_does_and_keeps_what_was_typed(
    client, shop, area, item, outcome
) -> None:
    client.force_login(shop.member)
    seen = Observation.objects.count()
    asked = tap(client, item, outcome, note="loose “staple”")
    assert asked.status_code == 409
    assert SAYS in asked.text
    assert 'value="loose “staple”"' in asked.text
    assert f'name="outcome" value="{outcome}">Record Fix and withdraw the release' in (asked.text)
    assert f'name="shown" value="{item.fingerprint}"' in asked.text
    back = f"/jobs/{item.job_id}/?room=east&amp;item={item.id}#item-{item.id}"
    assert f'href="{back}">Cancel: record nothing' in asked.text
    assert (Observation.objects.count(), live(area)) == (seen, True)


def test_the_second_tap_records_it(client, shop, area, item) -> None:
    client.force_login(shop.member)
    answer = tap(client, item, note="loose", withdraws="1")
    assert (
        answer.headers["Location"]
        == f"/jobs/{item.job_id}/?room=east&item={item.id}#item-{item.id}"
    )
    seen = item.observations.last()
    assert (seen.outcome, seen.note, seen.seen_by) == ("fix", "loose", shop.member)
    assert not live(area)


def test_what_withdraws_nothing_is_recorded_at_once(client, shop, job, area, item) -> None:
    client.force_login(shop.member)
    assert tap(client, item, "ok").status_code == 302
    west = job.items.filter(area__code="west", verdict="verify", stage="rough-in").first()
    finish = job.items.filter(area=area, stage="finish").first()
    for other in (west, finish):
        assert tap(client, other).status_code == 302
        assert other.observations.last().outcome == "fix"
    assert live(area)


def test_what_something_else_withdraws_is_not_blamed_on_the_tap(
    client, shop, area, item, clock
) -> None:
    permit_extend(shop.office, permit=area.job.permit, expires_on=clock.now.date())
    clock.now += timedelta(days=3)  # and nothing has settled since
    client.force_login(shop.member)
    assert tap(client, item).status_code == 302
    assert not live(area)


def test_a_house_that_changed_since_it_was_shown_is_said_first(client, shop, area, item) -> None:
    client.force_login(shop.member)
    answer = tap(client, item, shown="0" * 16)
    assert answer.status_code == 422
    assert "changed since this was shown" in answer.text
    assert live(area)


def test_a_released_area_says_so_beside_the_button(client, shop, job, area, item) -> None:
    client.force_login(shop.member)
    beside = "Fix withdraws the cover release and sends messages. You confirm first."
    west = job.items.filter(area__code="west", verdict="verify", stage="rough-in").first()
    finish = job.items.filter(area=area, stage="finish").first()
    for found, says in ((item, True), (west, False), (finish, False)):
        for headers in ({}, {"HX-Request": "true"}):
            text = client.get(reverse("item", args=[found.id]), headers=headers).text
            assert (beside in text) == says


def test_several_at_once_name_every_release_that_goes(shop, job, area, item) -> None:
    west = job.areas.select_related("job__shop", "job__authority").get(code="west")
    shop.release(west, reference="R2")
    looks = job.items.filter(verdict="verify", stage="rough-in").select_related("job__shop")
    with pytest.raises(WouldWithdraw, match=r"cover release of East and West\. The builder"):
        items_observe(shop.member, items=list(looks), outcome=Outcome.FIX, withdraws=False)
    assert live(area)
    assert live(west)


def test_a_program_and_a_phone_are_never_stopped(client, shop, area, item) -> None:
    client.force_login(shop.member)
    url = f"/api/items/{item.id}/observations"
    assert client.post(url, {"outcome": "fix"}, "application/json").status_code == 201
    assert not live(area)


def test_the_phone_knows_what_a_fault_there_does(client, shop, job, area, item) -> None:
    client.force_login(shop.member)
    rooms = client.get(reverse("walk-data", args=[job.id])).json()["rooms"]
    said = {room["area"]: {each["withdraws"] for each in room["items"]} for room in rooms}
    assert said == {"East": {SAYS}, "West": {""}}


def fail(shop, item, clock, person=None) -> Observation:
    seen = item_observe(person or shop.member, item=item, outcome=Outcome.FIX)
    clock.now += timedelta(minutes=1)
    return seen


def test_whoever_slipped_undoes_it_and_both_stay_on_record(client, shop, area, item, clock) -> None:
    seen = fail(shop, item, clock)
    client.force_login(shop.member)
    page = item_address(item)
    assert UNDO in client.get(page).text
    assert UNDO in client.get(reverse("item", args=[item.id])).text
    client.post(reverse("undo", args=[seen.id]))
    first, second = item.observations.order_by("-recorded_at")[:2]
    assert (first.outcome, first.note, first.seen_by) == (
        "ok",
        "Undone: recorded by mistake.",
        shop.member,
    )
    assert second.id == seen.id
    assert UNDO not in client.get(page).text
    assert not live(area)  # it waits for the office
    assert cover_release_issue(shop.office, area=area).live


def test_nobody_else_undoes_it(client, shop, item, clock, stranger_shop) -> None:
    seen = fail(shop, item, clock)
    client.force_login(shop.lead)
    assert UNDO not in client.get(item_address(item)).text
    with pytest.raises(ValidationError, match="Only the person who recorded it"):
        observation_undo(shop.lead, observation=seen)
    for person in (shop.builder, stranger_shop.office):
        with pytest.raises(NotAllowed):
            observation_undo(person, observation=seen)
    client.force_login(stranger_shop.member)
    assert client.post(reverse("undo", args=[seen.id])).status_code == 404
    assert item.observations.last().id == seen.id


@pytest.mark.parametrize("outcome", ["ok", "fix", "cant_see"])
@pytest.mark.parametrize("who", ["member", "lead"])
def test_it_ends_once_anything_else_was_said(shop, item, clock, who, outcome) -> None:
    seen = fail(shop, item, clock)
    item_observe(getattr(shop, who), item=item, outcome=outcome)
    clock.now += timedelta(minutes=1)
    with pytest.raises(ValidationError, match="A newer answer is on this item"):
        observation_undo(shop.member, observation=seen)


def test_it_passes_nothing_that_had_not_passed(client, shop, job, clock) -> None:
    west = job.areas.select_related("job__shop", "job__authority").get(code="west")
    item = west.items.filter(verdict="verify", stage="rough-in").select_related("job__shop").first()
    seen = fail(shop, item, clock)
    with pytest.raises(ValidationError, match="not OK before"):
        observation_undo(shop.member, observation=seen)
    client.force_login(shop.member)
    assert UNDO not in client.get(reverse("item", args=[item.id])).text


def test_it_answers_no_fault_that_another_found(shop, item, clock) -> None:
    found = fail(shop, item, clock, shop.lead)
    offline = {"seen_at": clock.now, "recorded_at": clock.now, "known_at": found.seen_at}
    clock.now += timedelta(minutes=1)
    passed = {"item": item, "outcome": "ok", "fingerprint": item.fingerprint}
    known = found.recorded_at - timedelta(minutes=5)
    Observation.objects.create(**passed, seen_by=shop.member, **offline | {"known_at": known})
    seen = fail(shop, item, clock)
    with pytest.raises(ValidationError, match="not OK before"):
        observation_undo(shop.member, observation=seen)


def test_it_ends_when_the_house_changes(shop, area, clock) -> None:
    data = area.items.filter(verdict="verify", stage="rough-in", subject="east-d")
    item = data.select_related("job__shop").get()
    seen = fail(shop, item, clock)
    house_record(shop.lead, job=item.job, house=HOUSES["rerouted"])
    item.refresh_from_db()
    assert item.fingerprint != seen.fingerprint
    with pytest.raises(ValidationError, match="The house has changed since"):
        observation_undo(shop.member, observation=seen)

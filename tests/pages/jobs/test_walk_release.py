"""What a card of the walk says after a fault took the release of its area, and the way back."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.urls import reverse

from inspections.models import Item, Outcome
from inspections.services.observations import item_observe
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
WITHDRAWN = (
    "The cover release of East was withdrawn. East stays on hold until the office releases it "
    "again."
)
STAYS = "East stays on hold until the office releases it again."


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(datetime(2026, 6, 8, 15, 0, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def area(shop, clock):
    job = shop.roughed_in(HOUSES["clean"])
    found = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(found)
    clock.now += timedelta(hours=1)
    return found


@pytest.fixture
def items(area) -> list[Item]:
    looks = area.items.filter(verdict="verify", stage=Item.Stage.ROUGH_IN)
    return list(looks.select_related("job__shop")[:2])


def cards(client, area) -> dict[str, dict[str, Any]]:
    data = client.get(reverse("walk-data", args=[area.job_id])).json()
    return {card["id"]: card for room in data["rooms"] for card in room["items"]}


def test_a_card_says_that_the_release_was_withdrawn_and_offers_the_way_back(
    client, shop, area, items, clock
) -> None:
    item, other = items
    client.force_login(shop.member)
    before = cards(client, area)[str(item.id)]
    assert (before["release"], before["undo"]) == ("", "")
    item_observe(shop.member, item=item, outcome=Outcome.FIX)
    clock.now += timedelta(minutes=1)
    after = cards(client, area)
    assert after[str(item.id)]["release"] == WITHDRAWN
    assert after[str(other.id)]["release"] == ""
    assert after[str(item.id)]["undo"] == reverse("undo", args=[item.observations.last().id])
    assert client.post(after[str(item.id)]["undo"]).status_code == 302
    undone = cards(client, area)[str(item.id)]
    assert (undone["standing"], undone["undo"], undone["release"]) == ("ok", "", STAYS)


def test_good_says_that_the_area_stays_on_hold_and_so_only_until_it_is_released(
    client, shop, area, items, clock
) -> None:
    item, _ = items
    item_observe(shop.member, item=item, outcome=Outcome.FIX)
    clock.now += timedelta(minutes=1)
    item_observe(shop.member, item=item, outcome=Outcome.OK)
    client.force_login(shop.member)
    card = cards(client, area)[str(item.id)]
    assert (card["standing"], card["release"]) == ("ok", STAYS)
    clock.now += timedelta(minutes=1)
    shop.release(area, reference="R-again")
    assert cards(client, area)[str(item.id)]["release"] == ""


def test_nobody_else_is_offered_to_undo_it(client, shop, area, items) -> None:
    item, _ = items
    item_observe(shop.member, item=item, outcome=Outcome.FIX)
    client.force_login(shop.lead)
    card = cards(client, area)[str(item.id)]
    assert (card["release"], card["undo"]) == (WITHDRAWN, "")

"""Where a rule declares no length, no face asks for one, takes one or shows one as checked."""

from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone
from django.utils.text import capfirst

from config.languages import say
from config.messages.kept import in_english
from inspections.models import Item, Observation, Outcome
from inspections.selectors import line_of
from inspections.services.observations import item_observe
from inspections.services.walks import TickState, Walked, walk_record
from jobs.models import Job
from pages.jobs.room_rows import item_address
from tests.sure import the_first

pytestmark = pytest.mark.django_db
NOTHING = (
    "There is nothing to measure by tape here. Leave the measurement empty, and write the figure "
    "in the note."
)
NOTED = "There is nothing to measure by tape here. The figure is in the note."


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def item(job: Job) -> Item:
    """A look that is held to a percent or a count, or to nothing at all."""
    looks = job.items.filter(verdict="verify", stage="rough-in", current=True)
    return the_first(looks.filter(measure_min_mm=None, measure_max_mm=None))


def tick(item: Item, **given) -> Walked:
    now = timezone.now()
    made = Walked(uuid4(), item.id, Outcome.OK, item.fingerprint, made_at=now, known_at=now)
    return replace(made, **given)


def sent(item: Item, **given) -> dict[str, Any]:
    now = timezone.now().isoformat()
    told: dict[str, Any] = {"id": str(uuid4()), "item": str(item.id), "made_at": now}
    told |= {"outcome": "ok", "fingerprint": item.fingerprint, "known_at": now}
    told["measured_mm"] = 40
    return {"phone_now": now, "ticks": [told | given]}


def test_a_percent_a_count_and_diameters_are_no_lengths(job) -> None:
    """Items whose whole limit is none of a length have nothing to measure."""
    seen = 0
    for item in job.items.filter(current=True, verdict="verify"):
        points = [*item.finding["facts"].get("asked", {})]
        limit = in_english(item.finding["limit"])
        if (
            "mm" in limit
            or "in." in limit
            or "ft" in limit
            or any(p.endswith("_mm") for p in points)
        ):
            continue
        seen += 1
        assert item.measure is None, (item, limit)
    assert seen > 5


@pytest.mark.parametrize("outcome", ["ok", "fix", "cant_see", "na"])
def test_a_figure_is_refused_with_why_and_nothing_is_written(shop, item, outcome: str) -> None:
    with pytest.raises(ValidationError) as refusal:
        item_observe(shop.lead, item=item, outcome=Outcome(outcome), note="gas", measured_mm=40)
    assert refusal.value.message_dict == {"measured_mm": [NOTHING]}
    assert not shop.own(Observation).exists()


def test_the_page_of_an_item_asks_for_none_and_refuses_one(client, shop, item) -> None:
    client.force_login(shop.member)
    assert 'name="measured_typed"' not in client.get(reverse("item", args=[item.id])).text
    given = {"outcome": "ok", "measured_typed": "40 mm", "note": "by the stair"}
    answer = client.post(reverse("observe", args=[item.id]), given)
    assert answer.status_code == 422
    assert NOTHING in answer.text
    assert "by the stair" in answer.text
    assert not shop.own(Observation).exists()


def test_the_api_refuses_one_alone_and_one_among_ticks(client, shop, item) -> None:
    client.force_login(shop.lead)
    given = {"outcome": "ok", "measured_mm": 40}
    address = f"/api/items/{item.id}/observations"
    answer = client.post(address, given, content_type="application/json")
    assert answer.status_code == 422
    assert answer.json()["errors"] == [{"pointer": "#/measured_mm", "detail": NOTHING}]
    address = f"/api/jobs/{item.job_id}/observations"
    answer = client.post(address, sent(item), content_type="application/json")
    (taken,) = answer.json()["results"]
    assert (taken["state"], taken["says"]) == ("refused", NOTHING)
    assert not shop.own(Observation).exists()


@pytest.mark.parametrize(
    ("note", "kept"),
    [
        ("", "40 mm measured"),
        ("by the stair", "by the stair; 40 mm measured"),
        ("n" * 500, f"{'n' * 483}…; 40 mm measured"),
    ],
)
def test_a_tick_that_a_phone_had_queued_is_kept_with_its_figure_in_words(
    client, shop, job, item, note: str, kept: str
) -> None:
    client.force_login(shop.member)
    address = reverse("walk-sync", args=[job.id])
    answer = client.post(address, sent(item, note=note), content_type="application/json")
    (taken,) = answer.json()["taken"]
    assert (taken["state"], taken["says"]) == ("kept", NOTED)
    made = shop.own(Observation).get()
    assert (made.outcome, made.measured_mm, made.note) == ("ok", None, kept)
    assert line_of(item).standing == "ok"


def test_the_note_has_the_figure_as_it_was_typed(shop, job, item) -> None:
    typed = tick(item, measured_mm=158.75, measured_typed='6 1/4"')
    now = timezone.now()
    (taken,) = walk_record(shop.lead, job=job, ticks=[typed], phone_now=now, of_the_walk=True)
    made = shop.own(Observation).get()
    assert (taken.says, made.note, made.measured_typed) == (NOTED, '6 1/4" measured', "")


def test_so_is_one_of_facts_that_changed_since_and_one_that_comes_twice(shop, job, item) -> None:
    stale = tick(item, fingerprint="0" * 16, measured_mm=40)
    for _ in range(2):
        now = timezone.now()
        (taken,) = walk_record(shop.lead, job=job, ticks=[stale], phone_now=now, of_the_walk=True)
        assert taken.state is TickState.STALE
    assert shop.own(Observation).get().note == "40 mm measured"


def test_what_is_stored_of_before_is_not_shown_as_checked(client, shop, item) -> None:
    now = timezone.now()
    given = {"outcome": "ok", "measured_mm": 40, "fingerprint": item.fingerprint}
    Observation.objects.create(item=item, seen_by=shop.lead, seen_at=now, recorded_at=now, **given)
    client.force_login(shop.office)
    for page in (reverse("item", args=[item.id]), item_address(item)):
        text = client.get(page).text
        assert "1 9/16 in. typed, not checked: this item has no measurement" in text
        assert "1 9/16 in. measured" not in text


def test_a_refusal_names_the_button_as_the_face_writes_it(client, shop, job) -> None:
    taped = job.items.filter(rule="free-conductors", verdict="verify").first()
    client.force_login(shop.member)
    given = {"outcome": "ok", "measured_typed": "10 mm"}
    page = client.post(reverse("observe", args=[taped.id]), given).text
    assert "Record it as Fix," in page
    assert ">Fix</button>" in page
    address = reverse("walk-sync", args=[job.id])
    told = sent(taped, measured_mm=10)
    (taken,) = client.post(address, told, content_type="application/json").json()["taken"]
    assert "Record it as Fix," in taken["says"]


def test_the_field_says_which_of_two_limits_it_means(client, shop, job) -> None:
    """The first support and the distance between supports are two; the tape is put to one."""
    item = job.items.filter(rule="cable-support", verdict="verify", current=True).first()
    assert item.measure is not None
    client.force_login(shop.member)
    page = client.get(reverse("item", args=[item.id])).text
    assert f"{capfirst(say(item.measure.name))}, measured <span>" in page
    assert f"({say(item.measure.limit, 'en')})" in page

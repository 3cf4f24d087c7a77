"""What somebody types off a tape is kept as typed, beside its exact figure, on every face."""

from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.urls import reverse
from django.utils import timezone

from config.languages import measured_in, spoken_to
from inspections.append_only import TABLES
from inspections.models import Item, Observation, Outcome
from inspections.services.observations import item_observe
from inspections.services.typed_measures import given_measure
from inspections.services.walks import TickState, Walked, walk_record
from jobs.models import Job
from tests.sure import the_first

TYPED = '6 1/4"'
MM = 158.75
REMEDY = 'Enter a length such as 6 1/4" or 160 mm.'


@pytest.fixture
def item(shop, house_bytes) -> Item:
    job: Job = shop.roughed_in(house_bytes)
    taped = job.items.filter(rule="free-conductors", current=True, measure_min_mm=150)
    return the_first(taped)


def tick(item: Item, **given: Any) -> Walked:
    now = timezone.now()
    made = Walked(uuid4(), item.id, Outcome.FIX, item.fingerprint, made_at=now, known_at=now)
    return replace(made, **given)


@pytest.mark.parametrize(
    ("typed", "mm", "found"),
    [
        (TYPED, None, (MM, TYPED)),
        ("  6 1/4 ", None, (MM, "6 1/4")),
        ("", 160.0, (160.0, "")),
        ("", None, (None, "")),
        ("160 mm", 160.004, (160.0, "160 mm")),
        ("6", 6.0, (6.0, "6")),  # chosen otherwise since it was typed
        ("152,5", 152.5, (152.5, "152,5")),
    ],
)
def test_either_gives_the_other(
    typed: str, mm: float | None, found: tuple[float | None, str]
) -> None:
    tape = given_measure(typed, mm)
    assert (tape.mm, tape.typed) == found


def test_a_number_alone_is_in_the_unit_and_language_of_whoever_reads() -> None:
    with measured_in(imperial=False):
        assert given_measure("160", None).mm == 160
    with spoken_to("fr", "metric"):
        assert given_measure("152,5", None).mm == 152.5
    with spoken_to("fr"):
        assert given_measure("6,25", None).mm == MM


@pytest.mark.parametrize(
    ("typed", "mm", "says"),
    [
        ("about six", None, f"“about six” cannot be read as a length. {REMEDY}"),
        ("about six", 152.4, f"“about six” cannot be read as a length. {REMEDY}"),
        ("-6", None, f"“-6” cannot be read as a length. {REMEDY}"),
        ("400 ft", None, "“400 ft” is longer than 328 ft 1 in. Check the figure and its unit."),
        (
            TYPED,
            160.0,
            '“6 1/4"” is not 160 mm. Give one of them, or the same length as both, '
            'such as 6 1/4" or 160 mm.',
        ),
    ],
)
def test_what_is_no_length_or_two_is_refused_where_it_was_typed(typed, mm, says) -> None:
    with pytest.raises(ValidationError) as refusal:
        given_measure(typed, mm)
    assert refusal.value.message_dict == {"measured_typed": [says]}


@pytest.mark.django_db
def test_a_look_keeps_both_and_so_does_the_record(shop, item) -> None:
    item_observe(shop.lead, item=item, outcome=Outcome.OK, measured_typed=TYPED)
    kept = Observation.objects.get(item=item)
    assert (kept.measured_mm, kept.measured_typed) == (MM, TYPED)
    detail = item.job.record.last().detail
    assert (detail["measured_mm"], detail["measured_typed"]) == (MM, TYPED)


@pytest.mark.django_db
def test_a_pass_is_judged_by_what_was_typed(shop, item) -> None:
    with pytest.raises(ValidationError, match="Record it as Fix") as refusal:
        item_observe(shop.lead, item=item, outcome=Outcome.OK, measured_typed='5 7/8"')
    assert list(refusal.value.message_dict) == ["measured_typed"]
    item_observe(shop.lead, item=item, outcome=Outcome.OK, measured_typed='5 15/16"')


@pytest.mark.django_db
def test_each_tick_of_a_walk_is_judged_alone(shop, item) -> None:
    ticks = [
        tick(item, measured_mm=MM, measured_typed=TYPED),
        tick(item, measured_mm=160.0, measured_typed=TYPED),
        tick(item, measured_mm=MM, measured_typed="x" * 500),
        tick(item, measured_mm=MM),
    ]
    taken = walk_record(shop.lead, job=item.job, ticks=ticks, phone_now=timezone.now())
    refused = [TickState.REFUSED, TickState.REFUSED]
    assert [each.state for each in taken] == [TickState.KEPT, *refused, TickState.KEPT]
    assert "is not 160 mm" in taken[1].says
    assert REMEDY in taken[2].says
    kept = {look.id: look.measured_typed for look in Observation.objects.filter(item=item)}
    assert kept == {ticks[0].id: TYPED, ticks[3].id: ""}


@pytest.mark.django_db
def test_a_phone_gives_and_is_given_what_was_typed(client, shop, item) -> None:
    client.force_login(shop.member)
    now = timezone.now().isoformat()
    sent: dict[str, str | float] = {
        "id": str(uuid4()),
        "item": str(item.id),
        "outcome": "fix",
        "made_at": now,
    }
    sent |= {"fingerprint": item.fingerprint, "known_at": now}
    sent |= {"measured_mm": MM, "measured_typed": "6 1/4"}
    address = reverse("walk-sync", args=[item.job_id])
    body = {"phone_now": now, "ticks": [sent]}
    answer = client.post(address, body, content_type="application/json")
    assert answer.json()["taken"][0]["state"] == "kept"
    data = client.get(reverse("walk-data", args=[item.job_id])).json()
    latest = [
        card["latest"]
        for room in data["rooms"]
        for card in room["items"]
        if card["id"] == str(item.id)
    ]
    assert [(look["measured_mm"], look["measured"]) for look in latest] == [(MM, "6 1/4 in.")]
    page = client.get(reverse("walk", args=[item.job_id])).text
    assert 'data-units="imperial"' in page
    client.cookies["studbay_units"] = "metric"
    assert 'data-units="metric"' in client.get(reverse("walk", args=[item.job_id])).text


@pytest.mark.django_db
def test_a_reader_of_metric_is_shown_and_types_metric(client, shop, item) -> None:
    client.force_login(shop.member)
    client.cookies["studbay_units"] = "metric"
    address = reverse("item", args=[item.id])
    assert 'placeholder="160 mm"' in client.get(address).text
    client.post(reverse("observe", args=[item.id]), {"outcome": "fix", "measured_typed": "160"})
    assert Observation.objects.get(item=item).measured_mm == 160
    assert "160 mm measured" in client.get(address).text


@pytest.mark.django_db
def test_the_api_takes_what_was_typed_with_its_unit(client, shop, item) -> None:
    client.force_login(shop.lead)
    address = f"/api/items/{item.id}/observations"

    def post(**given):
        return client.post(address, {"outcome": "fix"} | given, content_type="application/json")

    made = post(measured_typed=TYPED)
    assert (made.status_code, made.json()["measured_mm"]) == (201, MM)
    assert made.json()["measured_typed"] == TYPED
    both = post(measured_typed="160", measured_mm=160)
    assert (both.status_code, both.json()["measured_typed"]) == (201, "160")
    assert post(measured_mm=160).json()["measured_typed"] == ""
    for given, status, says in (
        ({"measured_typed": "6"}, 400, "“6” has no unit."),
        ({"measured_typed": "six"}, 422, "“six” cannot be read as a length."),
        ({"measured_typed": TYPED, "measured_mm": 160}, 422, "is not 160 mm."),
    ):
        answer = post(**given)
        assert answer.status_code == status, answer.content
        (error,) = answer.json()["errors"]
        assert error["pointer"] == "#/measured_typed"
        assert says in error["detail"]
    assert Observation.objects.filter(item=item).count() == 3


@pytest.mark.django_db
def test_a_look_is_neither_edited_nor_deleted_since_it_has_the_column(shop, item) -> None:
    """SQLite makes a table anew for a column, and its triggers go with the old one."""
    assert "inspections_observation" in TABLES
    item_observe(shop.lead, item=item, outcome=Outcome.FIX, measured_typed=TYPED)
    for statement in (
        "UPDATE inspections_observation SET measured_typed = '7'",
        "DELETE FROM inspections_observation",
    ):
        with pytest.raises(IntegrityError, match="kept as it is"), transaction.atomic():
            connection.cursor().execute(statement)

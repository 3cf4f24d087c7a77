"""What was built otherwise is one revision with who and what, done once, and undone exactly."""

import json
from typing import Any
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from config.languages import say
from inspections.checker.house.boxes import DeviceKind
from inspections.models import FactCorrection, HouseRevision
from inspections.selectors import latest_revision
from inspections.services.as_built import (
    BoxAdded,
    BoxMoved,
    BoxRemoved,
    CircuitNamed,
    built_record,
)
from inspections.services.fact_corrections import (
    FactMoved,
    NotCorrected,
    fact_correction_undo,
)
from jobs.access import NotAllowed
from jobs.services.people import office_first_set
from tests.sure import sure

pytestmark = pytest.mark.django_db
ON_WALL = {"surface": "wall", "wall": "n", "at_mm": 500.0}


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


def house_of(job) -> Any:
    return json.loads(sure(latest_revision(job)).house)


def place_of(job, name: str) -> Any:
    return next(box["place"] for box in house_of(job)["boxes"] if box["id"] == name)


def give(shop, job, built, *, actor=None, **more: Any) -> FactCorrection:
    given: dict[str, Any] = {"correction_id": uuid4()} | more
    return built_record(actor or shop.lead, job=job, built=built, **given)


def test_each_is_one_revision_that_says_who_and_what(shop, job) -> None:
    shown = place_of(job, "R22")
    circuit = house_of(job)["circuits"][0]
    wall = shown["wall"]
    cases = [
        (
            BoxMoved("R22", shown, {"surface": "wall", "wall": wall, "at_mm": 700.0}),
            "box R22 moved",
        ),
        (BoxRemoved("R1", place_of(job, "R1")), "box R1 removed"),
        (
            BoxAdded("living", DeviceKind.RECEPTACLE, ON_WALL),
            "box R57 added: receptacle, wall n and ",
        ),
        (CircuitNamed(circuit["id"], circuit["name"], "Cooktop"), "named Cooktop"),
    ]
    for built, told in cases:
        name = uuid4()
        before = HouseRevision.objects.filter(job=job).count()
        made = give(shop, job, built, correction_id=name)
        assert give(shop, job, built, correction_id=name).id == made.id
        assert HouseRevision.objects.filter(job=job).count() == before + 1
        why = sure(latest_revision(job)).why
        assert told in why
        assert str(shop.lead) in why
    house = house_of(job)
    boxes = {box["id"]: box for box in house["boxes"]}
    assert boxes["R22"]["place"] == shown | {"at_mm": 700.0}
    assert "R1" not in boxes
    assert boxes["R57"]["room"] == "living"
    assert house["circuits"][0]["name"] == "Cooktop"


def test_a_removed_box_leaves_the_checklist_and_an_undo_brings_it_back(shop, job) -> None:
    before = house_of(job)
    gone = give(shop, job, BoxRemoved("R22", place_of(job, "R22")))
    assert not job.items.filter(subject="R22", current=True).exists()
    fact_correction_undo(shop.lead, correction=gone, correction_id=uuid4())
    after = house_of(job)
    for kind in ("boxes", "cables", "holes", "bundles", "separations"):
        assert sorted(map(str, before[kind])) == sorted(map(str, after[kind])), kind
    assert job.items.filter(subject="R22", current=True).exists()
    assert "change of revision 2 undone by" in sure(latest_revision(job)).why


def test_an_added_box_asks_what_nobody_has_said_of_it(shop, job) -> None:
    give(shop, job, BoxAdded("living", DeviceKind.RECEPTACLE, ON_WALL, fed_from="R22"))
    assert job.items.filter(subject="R57", current=True, verdict="info_needed").exists()


def test_where_something_else_is_recorded_by_now_both_are_shown(shop, job) -> None:
    shown = place_of(job, "R22")
    give(shop, job, BoxMoved("R22", shown, shown | {"at_mm": 700.0}))
    for built in (BoxRemoved("R22", shown), BoxMoved("R22", shown, shown | {"at_mm": 900.0})):
        with pytest.raises(FactMoved) as moved:
            give(shop, job, built)
        assert "Place of box R22" in say(moved.value.text, "en")
    circuit = house_of(job)["circuits"][0]
    with pytest.raises(FactMoved):
        give(shop, job, CircuitNamed(circuit["id"], "Other", "Cooktop"))
    assert FactCorrection.objects.filter(job=job).count() == 1


def test_what_is_gone_or_cannot_be_is_refused_and_nothing_is_written(shop, job) -> None:
    shown = place_of(job, "R22")
    for built in (
        BoxRemoved("R999", shown),
        BoxMoved("R22", shown, dict(shown)),
        BoxAdded("living", DeviceKind.RECEPTACLE, ON_WALL, fed_from="P1"),
        CircuitNamed("no-circuit", "Range", "Cooktop"),
        CircuitNamed("range", "Range", "Range"),
    ):
        with pytest.raises((NotCorrected, FactMoved)):
            give(shop, job, built)
    for built in (
        BoxMoved("R22", shown, shown | {"at_mm": 90_000.0}),
        BoxAdded("no-room", DeviceKind.RECEPTACLE, ON_WALL),
    ):
        with pytest.raises(ValidationError):
            give(shop, job, built)
    assert HouseRevision.objects.filter(job=job).count() == 1
    assert not FactCorrection.objects.filter(job=job).exists()


def test_only_who_works_on_site_says_it(shop, stranger_shop, job) -> None:
    built = BoxRemoved("R22", place_of(job, "R22"))
    for actor in (shop.builder, stranger_shop.office, stranger_shop.lead):
        with pytest.raises(NotAllowed):
            give(shop, job, built, actor=actor)
    made = give(shop, job, built)
    with pytest.raises(ValidationError):
        give(shop, job, built, actor=shop.office, correction_id=made.id)


def test_where_the_office_looks_first_only_the_office_corrects(shop, job, client) -> None:
    office_first_set(shop.office, shop=shop.shop, first=True)
    job.shop.refresh_from_db()
    built = BoxRemoved("R22", place_of(job, "R22"))
    with pytest.raises(NotCorrected) as refused:
        give(shop, job, built)
    assert "the office looks first" in say(refused.value.text, "en")
    assert not FactCorrection.objects.filter(job=job).exists()
    client.force_login(shop.lead)
    told = client.get(reverse("walk-data", args=[job.id])).json()
    assert not any(item["fixes"] for room in told["rooms"] for item in room["items"])
    assert told["circuits"] == []
    assert "boxes" not in told
    assert client.get(reverse("fixes", args=[job.id])).json()["lines"] == []
    client.force_login(shop.office)
    assert client.get(reverse("fixes", args=[job.id])).json()["lines"]
    assert give(shop, job, built, actor=shop.office).made_by == shop.office
    with pytest.raises(NotAllowed):
        office_first_set(shop.lead, shop=shop.shop, first=False)


def test_the_office_sets_it_on_its_page(shop, client) -> None:
    client.force_login(shop.office)
    address = reverse("office-first")
    client.post(address, {"first": "1"})
    shop.shop.refresh_from_db()
    assert shop.shop.office_looks_first
    assert "checked> the office looks first" in client.get(reverse("people")).text
    client.post(address)
    shop.shop.refresh_from_db()
    assert not shop.shop.office_looks_first

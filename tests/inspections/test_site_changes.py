"""A box that stands elsewhere: told on site, accepted by the office, a revision then."""

import json
from typing import Any
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from rest_framework.test import APIClient

from config.languages import say
from inspections.checker.finding import Verdict
from inspections.models import Outcome, SiteChange
from inspections.overview.progress import job_moves
from inspections.selectors import latest_revision, site_changes_open
from inspections.services.houses import house_record
from inspections.services.observations import items_observe
from inspections.services.site_changes import (
    site_change_accept,
    site_change_leave,
    site_change_record,
)
from jobs.access import NotAllowed
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def boxes(job) -> dict[str, dict[str, Any]]:
    return {box["id"]: box for box in json.loads(sure(latest_revision(job)).house)["boxes"]}


@pytest.fixture
def box(job) -> str:
    """A receptacle of a bedroom."""
    return next(
        name
        for name, box in boxes(job).items()
        if box["place"]["surface"] == "wall"
        and box["room"].startswith("bed")
        and box["devices"][0]["kind"] == "receptacle"
    )


def told(shop, job, box, at=700.0, **more):
    given = {"job": job, "site_change_id": uuid4(), "box": box, "at_mm": at} | more
    return site_change_record(shop.member, **given)


def test_the_house_stays_until_the_office_accepts_and_is_a_revision_then(shop, job, box) -> None:
    before = boxes(job)[box]["place"]
    site_change = told(shop, job, box, height_mm=320.0, note="by the bed")
    assert boxes(job)[box]["place"] == before
    assert (("office",), "accept or dismiss 1 box found in another place than drawn") in [
        (move.who, say(move.what, "en")) for move in job_moves(job)
    ]
    number = sure(latest_revision(job)).number
    answer = site_change_accept(shop.office, site_change=site_change)
    assert answer.revision == sure(latest_revision(job)).number == number + 1
    assert boxes(job)[box]["place"] == before | {"at_mm": 700.0, "height_mm": 320.0}
    why = sure(latest_revision(job)).why
    assert "Member" in why or "found by" in why
    assert not site_changes_open(job)
    with pytest.raises(ValidationError, match="already answered"):
        site_change_leave(shop.office, site_change=site_change)


def test_a_pass_that_rests_on_where_it_stood_is_open_again(shop, job, box) -> None:
    items = list(job.items.filter(rule="wall-receptacles", verdict=Verdict.OK))
    items_observe(shop.member, items=items, outcome=Outcome.OK)
    passed = {item.id: item.fingerprint for item in items}
    at = boxes(job)[box]["place"]["at_mm"]
    site_change_accept(shop.office, site_change=told(shop, job, box, at=at + 10))
    now = {item.id: item for item in job.items.filter(id__in=passed)}
    changed = {now[key].subject for key in passed if now[key].fingerprint != passed[key]}
    room = boxes(job)[box]["room"]
    assert changed
    assert all(subject.startswith(f"{room}/") for subject in changed)


def test_one_that_is_left_changes_nothing(shop, job, box) -> None:
    number = sure(latest_revision(job)).number
    answer = site_change_leave(shop.office, site_change=told(shop, job, box), why="measured wrong")
    assert not answer.accepted
    assert sure(latest_revision(job)).number == number
    assert not site_changes_open(job)


def test_it_comes_once_however_often_a_phone_sends_it(shop, job, box) -> None:
    identity = uuid4()
    first = told(shop, job, box, site_change_id=identity)
    assert told(shop, job, box, at=900.0, site_change_id=identity) == first
    assert shop.own(SiteChange).count() == 1
    with pytest.raises(ValidationError, match="has this one's id"):
        site_change_record(shop.lead, job=job, site_change_id=identity, box=box, at_mm=1.0)


def test_a_place_that_cannot_be_is_refused(shop, job, box) -> None:
    with pytest.raises(ValidationError, match="Enter a distance along it"):
        told(shop, job, box, at=999_999.0)
    with pytest.raises(ValidationError, match="no wall zz"):
        told(shop, job, box, wall="zz")
    with pytest.raises(ValidationError, match="no box gone"):
        told(shop, job, "gone")
    with pytest.raises(NotAllowed):
        site_change_record(shop.builder, job=job, site_change_id=uuid4(), box=box, at_mm=1.0)
    assert shop.own(SiteChange).count() == 0


@pytest.mark.parametrize("height", [float("nan"), float("inf"), -1.0, 1e308])
def test_a_height_that_no_tape_shows_is_refused(shop, job, box, height: float) -> None:
    with pytest.raises(ValidationError, match="from 0 to 100,000"):
        told(shop, job, box, height_mm=height)
    assert shop.own(SiteChange).count() == 0


def test_a_height_above_the_ceiling_is_refused(shop, job, box) -> None:
    house = json.loads(sure(latest_revision(job)).house)
    room = next(each for each in house["rooms"] if each["id"] == boxes(job)[box]["room"])
    with pytest.raises(ValidationError, match="Enter the height from the floor"):
        told(shop, job, box, height_mm=room["ceiling_mm"] + 1)
    assert told(shop, job, box, height_mm=room["ceiling_mm"]).height_mm == room["ceiling_mm"]


def test_one_whose_wall_is_shorter_meanwhile_is_refused_in_words(client, shop, job, box) -> None:
    place = boxes(job)[box]["place"]
    house = json.loads(sure(latest_revision(job)).house)
    room = next(each for each in house["rooms"] if each["id"] == boxes(job)[box]["room"])
    wall = next(each for each in room["walls"] if each["id"] == place["wall"])
    site_change = told(shop, job, box, at=wall["length_mm"])
    wall["length_mm"] -= 1
    house_record(shop.office, job=job, house=json.dumps(house).encode())
    with pytest.raises(ValidationError, match="Enter a distance along it"):
        site_change_accept(shop.office, site_change=site_change)
    client.force_login(shop.office)
    answer = client.post(
        reverse("site-change", args=[site_change.id]), {"accept": "1"}, follow=True
    )
    assert answer.status_code == 422
    assert "Enter a distance along it" in answer.text
    assert site_changes_open(job)


def test_a_box_that_is_gone_meanwhile_cannot_be_accepted(shop, job, box) -> None:
    site_change = told(shop, job, box)
    house = json.loads(sure(latest_revision(job)).house)
    house["boxes"] = [each for each in house["boxes"] if each["id"] != box]
    for part in ("cables", "holes", "notches", "fastenings", "bundles"):
        house[part] = []
    for part in ("separations", "crossings", "heat_gaps"):
        house[part] = []
    house_record(shop.office, job=job, house=json.dumps(house).encode())
    with pytest.raises(ValidationError, match="may have changed"):
        site_change_accept(shop.office, site_change=site_change)


def test_a_phone_sends_it_and_the_office_accepts_it_on_the_page(client, shop, job, box) -> None:
    client.force_login(shop.member)
    sent = {"id": str(uuid4()), "box": box, "at_mm": 650, "made_at": "2026-11-27T10:00:00Z"}
    address = reverse("walk-site-change", args=[job.id])
    answer = client.post(address, json.dumps(sent), "application/json")
    assert answer.json()["state"] == "kept"
    bad = client.post(address, json.dumps(sent | {"at_mm": -1}), "application/json")
    assert bad.status_code == 400
    assert bad.json()["says"] == "Enter a distance from 0 to 3280 ft 10 1/16 in."
    far = sent | {"id": str(uuid4()), "at_mm": 900_000}
    assert client.post(address, json.dumps(far), "application/json").json()["state"] == "refused"
    client.force_login(shop.office)
    assert (
        "Boxes found in another place" in client.get(reverse("job", args=[job.id])).content.decode()
    )
    client.post(reverse("site-change", args=[sent["id"]]), {"accept": "1"})
    assert boxes(job)[box]["place"]["at_mm"] == 650


def test_a_program_sends_lists_and_answers(shop, job, box) -> None:
    api = APIClient()
    api.force_authenticate(shop.office)
    sent = {"id": str(uuid4()), "box": box, "at_mm": 640}
    made = api.post(f"/api/jobs/{job.id}/site-changes", sent, format="json")
    assert made.status_code == 201
    listed = api.get(f"/api/jobs/{job.id}/site-changes").data
    assert [each["box"] for each in listed["results"]] == [box]
    address = f"/api/site-changes/{sent['id']}/answer"
    assert api.post(address, {"accepted": True}, format="json").data["revision"] == 2
    assert api.post(address, {"accepted": True}, format="json").status_code == 422

"""Rooms are headed by the names that somebody gave them, whatever stands in the names."""

import json
from typing import Any

import pytest
from django.urls import reverse

from config.languages import say
from config.messages.kept import in_english
from inspections.papers.site_sheets import SiteSheet, site_sheet
from inspections.selectors import latest_revision
from tests.sure import sure

pytestmark = pytest.mark.django_db

OF_STOREY = ", main floor"
STOREY = "Main, east"


def with_commas(house: bytes) -> dict[str, Any]:
    """A house whose first storey and whose rooms all have a comma in their names."""
    values: dict[str, Any] = json.loads(house)
    values["storeys"][0]["name"] = STOREY
    for room in values["rooms"]:
        room["name"] += OF_STOREY
    return values


@pytest.fixture
def house(house_bytes) -> dict[str, Any]:
    return with_commas(house_bytes)


@pytest.fixture
def job(shop, house):
    return shop.roughed_in(json.dumps(house).encode())


def names_of(house: dict[str, Any]) -> set[str]:
    return {room["name"] for room in house["rooms"]}


def test_a_comma_in_a_name_parts_nothing_on_the_page(client, shop, house, job) -> None:
    client.force_login(shop.office)
    answer = client.get(reverse("job", args=[job.id]))
    headed = [room.name for area in answer.context["sections"] for room in area.rooms]
    assert len(set(headed)) > 3
    assert {*headed} <= names_of(house)


def test_the_walk_names_each_room_as_the_house_does(client, shop, house, job) -> None:
    client.force_login(shop.lead)
    rooms = client.get(reverse("walk-data", args=[job.id])).json()["rooms"]
    assert len(rooms) > 3
    assert {room["name"] for room in rooms if room["kind"] == "room"} <= names_of(house)


def test_the_correction_list_names_area_and_room(shop, planted_bytes) -> None:
    house = with_commas(planted_bytes)
    job = shop.roughed_in(json.dumps(house).encode())
    document = site_sheet(job, sure(latest_revision(job)), SiteSheet.CORRECTIONS)
    areas = {area.name for area in job.areas.all()}
    headings = [say(section.title).partition(": ") for section in document.sections]
    assert len(headings) > 3
    for area, _, room in headings:
        assert area in areas
        assert room in names_of(house)


def test_a_house_without_anything_outdoors_has_its_page(client, shop, house) -> None:
    """What it lacks outdoors is said of the house as a whole, in no room."""
    for room in house["rooms"]:
        if room["kind"] == "outdoors":
            room["kind"] = "closet"
    job = shop.roughed_in(json.dumps(house).encode())
    where = job.items.get(rule="outdoor-receptacles").finding["where"]
    assert in_english(where) == "outdoors"
    client.force_login(shop.office)
    assert client.get(reverse("job", args=[job.id])).status_code == 200
    assert site_sheet(job, sure(latest_revision(job)), SiteSheet.CORRECTIONS).sections

"""What the drawing board asks of the site: findings of what is drawn, and what would finish it."""

import json

import pytest
from django.test import Client
from django.urls import reverse

from inspections.models import HouseRevision
from tests.propose.bare_houses import bare_house

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop):
    return shop.job()


def post(client, job, name: str, body: object):
    return client.post(reverse(name, args=[job.id]), json.dumps(body), "application/json")


def test_what_is_drawn_is_checked_and_nothing_is_recorded(client, shop, job) -> None:
    client.force_login(shop.lead)
    house = bare_house(4)
    answer = post(
        client, job, "draw-look", {"house": house, "rulebook": "nec-2023", "storey": "main"}
    )
    told = answer.json()
    assert answer.status_code == 200
    assert told["counts"]["not_to_code"] > 0
    assert {each["verdict"] for each in told["wanting"]} == {"not_to_code", "info_needed"}
    assert 'data-room="m0"' in told["svg"]
    assert shop.own(HouseRevision).count() == 0


def test_what_would_finish_it_is_told_with_proofs_and_may_be_left_out(client, shop, job) -> None:
    client.force_login(shop.office)
    body = {"house": bare_house(4), "rulebook": "cec-2021", "studs_mm": 400}
    told = post(client, job, "draw-finish", body).json()
    assert told["not_to_code"] == []
    assert all(each["says"] and each["proof"] for each in told["proposals"])
    light = next(each["key"] for each in told["proposals"] if each["kind"] == "lights")
    less = post(client, job, "draw-finish", body | {"left_out": [light]}).json()
    assert len(less["house"]["boxes"]) < len(told["house"]["boxes"])
    again = post(client, job, "draw-finish", body | {"house": told["house"]}).json()
    assert again["proposals"] == []


def test_a_blank_sheet_is_by_the_rulebook_the_shop_used_last(client, shop, house_bytes) -> None:
    client.force_login(shop.office)
    bare = shop.job("Lot 16")
    assert chosen(client, bare) == "cec-2018"
    shop.roughed_in(house_bytes)
    assert chosen(client, bare) == "cec-2021"


def chosen(client: Client, job) -> str:
    page = client.get(reverse("draw", args=[job.id])).content.decode()
    return page.split(" selected>")[1].partition("<")[0]


@pytest.mark.parametrize(
    ("name", "body", "said"),
    [
        ("draw-look", {"house": {}}, "format"),
        ("draw-look", {"house": None}, "object"),
        ("draw-look", [], "The drawing could not be read."),
        ("draw-look", {"house": bare_house(1), "rulebook": "nec-1900"}, "nec-1900"),
        ("draw-look", {"house": bare_house(1)}, "rulebook"),
        ("draw-finish", {"house": bare_house(1), "studs_mm": 3}, "7 7/8 in. to 4 ft 3 1/8 in."),
        ("draw-finish", {"house": bare_house(1), "studs_mm": "wide"}, "Enter the stud spacing"),
    ],
)
def test_what_cannot_be_read_is_told_by_name(client, shop, job, name, body, said) -> None:
    client.force_login(shop.office)
    answer = post(client, job, name, body)
    assert answer.status_code == 422
    assert said in " ".join(answer.json()["faults"])


def test_a_drawn_house_is_looked_at_before_it_is_recorded(client, shop, job) -> None:
    client.force_login(shop.office)
    text = json.dumps(bare_house(2) | {"rulebook": "cec-2021"})
    answer = client.post(reverse("house-upload", args=[job.id]), {"text": text, "look": "1"})
    assert "Changes in this house" in answer.content.decode()
    assert shop.own(HouseRevision).count() == 0
    client.post(reverse("house-upload", args=[job.id]), {"text": text, "base": "0"})
    assert shop.own(HouseRevision).count() == 1

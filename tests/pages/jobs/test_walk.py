"""The face of a walk: what a phone is given, what it sends, and who may."""

import json
from datetime import timedelta
from io import BytesIO
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from inspections.checker.finding import Verdict
from inspections.models import Item, Observation, Photograph
from jobs.models import Job
from tests.sure import the_first

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def item(job: Job) -> Item:
    """A look that a tape settles."""
    looks = job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN)
    return the_first(looks.filter(rule="free-conductors"))


def tick(item: Item, **given) -> dict[str, Any]:
    now = timezone.now()
    start = {
        "id": str(uuid4()),
        "item": str(item.id),
        "outcome": "ok",
        "fingerprint": item.fingerprint,
        "made_at": (now - timedelta(minutes=5)).isoformat(),
        "known_at": (now - timedelta(minutes=9)).isoformat(),
    }
    return start | given


def send(client, job, *ticks, **given):
    sent = {"phone_now": timezone.now().isoformat(), "ticks": list(ticks)} | given
    return client.post(
        reverse("walk-sync", args=[job.id]), json.dumps(sent), content_type="application/json"
    )


def jpeg(name: str = "a.jpg") -> SimpleUploadedFile:
    held = BytesIO()
    Image.new("RGB", (40, 30)).save(held, "JPEG")
    return SimpleUploadedFile(name, held.getvalue(), "image/jpeg")


def test_a_phone_is_given_the_rooms_in_order_with_what_is_asked(client, shop, job) -> None:
    client.force_login(shop.member)
    data = client.get(reverse("walk-data", args=[job.id])).json()
    assert data["person"] == str(shop.member.id)
    assert data["csrf"]
    items = [item for room in data["rooms"] for item in room["items"]]
    rough = job.items.filter(current=True, stage=Item.Stage.ROUGH_IN)
    assert {item["id"] for item in items} == {str(item.id) for item in rough}
    assert all(item["says"] and item["section"] for item in items)
    assert data["rooms"][0]["area"]
    assert len(items) == len(rough)
    for room in data["rooms"]:
        cards = list(dict.fromkeys(item["card"] for item in room["items"]))
        assert len(cards) <= (3 if room["kind"] == "room" else 1)
        for each in room["sample"]:
            own = {item["id"] for item in room["items"] if item["card"] == "boxes"}
            assert {*each["items"], each["measured"]} <= own
    assert sum(len(room["sample"]) for room in data["rooms"]) == 6


def test_a_phone_is_given_how_each_line_is_answered(client, shop, planted_bytes) -> None:
    job = shop.roughed_in(planted_bytes)
    shop.shop.photo_rules = ["box-support"]
    shop.shop.save()
    client.force_login(shop.member)
    data = client.get(reverse("walk-data", args=[job.id])).json()
    given = {i["id"]: i for room in data["rooms"] for i in room["items"]}
    by_figures = ("not_to_code", "info_needed")
    for item in job.items.filter(current=True, stage=Item.Stage.ROUGH_IN):
        told = given[str(item.id)]
        assert told["first"] == (item.verdict in by_figures)
        assert bool(told["number"]) == told["first"]
        assert told["photograph_first"] == (item.rule == "box-support")
        if item.verdict in by_figures or not item.workmanship:
            assert told["check"] == "" or item.verdict == "verify"
        elif item.finding["topic"] in ("panel", "grounding"):
            assert told["check"] == "line"
        else:
            assert told["check"] == "card"
    (support,) = job.items.filter(rule="box-support", subject="room:coats")
    assert given[str(support.id)]["parts"] == ["box L4"]


def test_what_it_sends_is_kept_and_shown_by_the_next_reading(client, shop, job, item) -> None:
    client.force_login(shop.member)
    sent = tick(item, note="by tape", measured_mm=212.5)
    assert send(client, job, sent).json() == {
        "taken": [{"id": sent["id"], "state": "kept", "says": ""}]
    }
    data = client.get(reverse("walk-data", args=[job.id])).json()
    (mine,) = (i for room in data["rooms"] for i in room["items"] if i["id"] == sent["item"])
    assert (mine["standing"], mine["contest"]) == ("ok", [])
    assert (mine["latest"]["note"], mine["latest"]["measured_mm"]) == ("by tape", 212.5)
    client.force_login(shop.lead)
    (answer,) = send(client, job, tick(item, outcome="fix")).json()["taken"]
    assert answer["state"] == "contested"
    data = client.get(reverse("walk-data", args=[job.id])).json()
    (mine,) = (i for room in data["rooms"] for i in room["items"] if i["id"] == sent["item"])
    assert mine["standing"] == "fix"
    assert {seen["outcome"] for seen in mine["contest"]} == {"ok", "fix"}


@pytest.mark.parametrize(
    ("given", "where"),
    [
        ({"outcome": "maybe"}, "ticks/0/outcome"),
        ({"made_at": "2026-03-01T10:00:00"}, "ticks/0/made_at"),
        ({"fingerprint": "x"}, "ticks/0/fingerprint"),
        ({"measured_mm": "ten"}, "ticks/0/measured_mm"),
        ({"note": "n" * 501}, "ticks/0/note"),
        ({"passed": True}, "ticks/0/passed"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_place(
    client, shop, job, item, given, where
) -> None:
    client.force_login(shop.member)
    answer = send(client, job, tick(item), **{"ticks": [tick(item, **given)]})
    assert answer.status_code == 400
    assert [fault["at"] for fault in answer.json()["faults"]] == [where]
    assert not shop.own(Observation).exists()


@pytest.mark.parametrize("figure", [-1, 1e400, -1e400, 1e308, 100_001, float("nan"), 10**400])
def test_a_figure_that_no_tape_shows_is_refused_alone(client, shop, job, item, figure) -> None:
    client.force_login(shop.member)
    bad, good = tick(item, outcome="fix", measured_mm=figure), tick(item, measured_mm=180)
    refused, kept = send(client, job, bad, good).json()["taken"]
    assert (refused["id"], refused["state"]) == (bad["id"], "refused")
    assert refused["says"] == "Enter the measurement in mm, a number from 0 to 100,000."
    assert kept["state"] == "kept"
    assert [seen.measured_mm for seen in shop.own(Observation).all()] == [180]


@pytest.mark.parametrize("body", [b"", b"[]", b"\xff", b'{"ticks": []}', b"[" * 100_000])
def test_neither_is_anything_else(client, shop, job, body) -> None:
    client.force_login(shop.member)
    url = reverse("walk-sync", args=[job.id])
    assert client.post(url, body, content_type="application/json").status_code == 400


def test_a_photograph_comes_in_once_and_nothing_that_is_none(client, shop, job, item) -> None:
    client.force_login(shop.member)
    url = reverse("walk-photograph", args=[job.id])
    given = {"id": str(uuid4()), "item": str(item.id), "fingerprint": item.fingerprint}
    for _ in range(2):
        assert client.post(url, given | {"file": jpeg()}).json()["state"] == "kept"
    assert str(shop.own(Photograph).get().id) == given["id"]
    text = SimpleUploadedFile("../../a.jpg", b"not a picture", "image/jpeg")
    answer = client.post(url, given | {"id": str(uuid4()), "file": text}).json()
    assert (answer["state"], "JPEG" in answer["says"]) == ("refused", True)
    other = job.items.exclude(id=item.id).first()
    answer = client.post(url, given | {"item": str(other.id), "file": jpeg()}).json()
    assert "has this one's id" in answer["says"]
    assert client.post(url, given | {"id": "1", "file": jpeg()}).status_code == 400
    assert client.post(url, given).status_code == 400
    assert shop.own(Photograph).count() == 1


def test_only_the_shops_own_people_walk(client, shop, stranger_shop, job, item) -> None:
    pages = [reverse(name, args=[job.id]) for name in ("walk", "walk-data")]
    for person in (shop.builder, stranger_shop.lead):
        client.force_login(person)
        assert {client.get(page).status_code for page in pages} == {404}
        assert send(client, job, tick(item)).status_code == 404
        assert job.name not in client.get(reverse("walks")).text
    client.logout()
    assert client.get(pages[0]).status_code == 302
    assert client.get(pages[1]).status_code == send(client, job, tick(item)).status_code == 401
    assert client.post(reverse("walk-photograph", args=[job.id])).status_code == 401
    client.force_login(shop.member)
    assert job.name in client.get(reverse("walks")).text
    assert client.get(pages[0]).status_code == 200
    assert not shop.own(Observation).exists()


def test_the_worker_is_served_where_its_scope_begins(client) -> None:
    answer = client.get(reverse("walk-worker"))
    assert answer["Content-Type"] == "text/javascript; charset=utf-8"
    assert reverse("walk-worker").startswith("/walk/")
    assert "caches.open" in answer.text

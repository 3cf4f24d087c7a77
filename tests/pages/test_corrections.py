"""A fact corrected from a page or a phone: what can be, what is sent, and what is asked first."""

import json
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse
from rest_framework.test import APIClient

from inspections.checker.finding import Verdict
from inspections.models import FactCorrection
from inspections.selectors import latest_revision
from tests.sure import sure

pytestmark = pytest.mark.django_db
SETBACK = ["boxes", "R22", "setback_mm"]


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


@pytest.fixture
def member(shop) -> Client:
    client = Client()
    client.force_login(shop.member)
    return client


def sent(client: Client, job, **body: Any):
    body = {"id": str(uuid4()), "base": 1} | body
    return client.post(
        reverse("correct", args=[job.id]), json.dumps(body), content_type="application/json"
    )


def flush(now: Any = 6.0, **more: Any) -> dict[str, Any]:
    return {"path": SETBACK, "was": 9.0, "now": now} | more


def test_each_failing_line_says_which_facts_close_it_in_the_readers_words(member, job) -> None:
    told = member.get(reverse("fixes", args=[job.id])).json()
    lines = {each["key"]: each for each in told["lines"]}
    failing = job.items.filter(current=True, verdict__in=[Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED])
    assert {f"{each.rule}:{each.subject}" for each in failing} == set(lines)
    (fix,) = lines["box-flush:R22"]["fixes"]
    assert (fix["path"], fix["now"], fix["most"]) == (SETBACK, 9.0, 6)
    assert fix["name"] == "Distance box R22 sits behind the finished surface"
    assert fix["most_says"] == "3/16 in."
    assert told["revision"] == 1
    assert {each["path"][-1] for each in told["questions"]} >= {"braces", "highest_handle_mm"}


def test_a_correction_is_kept_once_and_undone(member, job) -> None:
    name = str(uuid4())
    first = sent(member, job, id=name, changes=[flush(typed="6 mm")])
    again = sent(member, job, id=name, changes=[flush(typed="6 mm")])
    assert first.json() == again.json()
    assert first.json()["state"] == "kept"
    assert job.items.get(rule="box-flush", subject="R22").verdict == Verdict.OK
    back = sent(member, job, undoes=name)
    assert back.json()["state"] == "kept"
    assert job.items.get(rule="box-flush", subject="R22").verdict == Verdict.NOT_TO_CODE


@pytest.mark.parametrize(
    ("body", "status"),
    [
        ({"changes": []}, 409),
        ({"changes": [{"path": SETBACK, "was": 1.0, "now": 6.0}]}, 409),
        ({"changes": [{"path": [*SETBACK, "deeper"], "was": None, "now": 6.0}]}, 409),
        ({"changes": [{"path": ["boxes", "R22", "name", "volume_ml"], "was": 1, "now": 2}]}, 409),
        ({"changes": [{"path": [0, 1], "was": None, "now": 6.0}]}, 409),
        ({"changes": [{"path": ["device_depth_mm", "sofa"], "was": None, "now": 6.0}]}, 409),
        ({"changes": [flush(now="deep")]}, 422),
        ({"changes": [flush(now={"surface": "wall"})]}, 422),
        ({"changes": [flush(now=None, typed="very")]}, 422),
        ({"changes": [{"path": SETBACK, "was": {"surface": "wall"}, "now": 6.0}]}, 409),
        ({"changes": [{"path": []}]}, 400),
        ({"undoes": str(uuid4())}, 404),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence_and_nothing_written(
    member, job, body, status
) -> None:
    answer = sent(member, job, **body)
    assert answer.status_code == status, answer.content
    if status != 404:
        assert answer.json()["state"] == "refused"
        assert answer.json()["says"]
    assert sure(latest_revision(job)).number == 1
    assert not FactCorrection.objects.filter(job=job).exists()


def test_an_api_client_corrects_and_reads_what_was_corrected(shop, job) -> None:
    client = APIClient()
    client.force_authenticate(shop.lead)
    address = reverse("api-corrections", args=[job.id])
    body = {"id": str(uuid4()), "base": 1, "changes": [flush()]}
    made = client.post(address, body, format="json")
    assert made.status_code == 201, made.content
    (row,) = client.get(address).json()["results"]
    assert row["changes"][0]["path"] == SETBACK
    assert (row["changes"][0]["was"], row["changes"][0]["now"]) == (9.0, 6.0)
    assert row["revision"] == 2
    stale = client.post(address, body | {"id": str(uuid4())}, format="json")
    assert stale.status_code == 409
    assert "has been recorded since" in stale.json()["detail"]
    undone = client.post(address, {"id": str(uuid4()), "undoes": body["id"]}, format="json")
    assert undone.status_code == 201, undone.content
    fixes = client.get(reverse("api-fixes", args=[job.id])).json()
    assert "box-flush:R22" in {each["key"] for each in fixes["lines"]}


def test_a_released_area_is_asked_about_first(shop, house_bytes, member) -> None:
    job = shop.roughed_in(house_bytes)
    area = job.areas.order_by("id").first()
    shop.release(area)
    box = area.items.filter(rule="box-fill", verdict=Verdict.OK).first().subject
    boxes = json.loads(sure(latest_revision(job)).house)["boxes"]
    was = next(each["volume_ml"] for each in boxes if each["id"] == box)
    change = {"path": ["boxes", box, "volume_ml"], "was": was, "now": 1.0}
    asked = sent(member, job, changes=[change])
    assert (asked.status_code, asked.json()["state"]) == (409, "confirm")
    assert area.cover_releases.filter(withdrawn_at=None).exists()
    assert sent(member, job, changes=[change], withdraws=True).json()["state"] == "kept"
    assert not area.cover_releases.filter(withdrawn_at=None).exists()


def from_phone(client: Client, job, **body: Any):
    body = {"id": str(uuid4()), "base": 1} | body
    address = reverse("walk-fix", args=[job.id])
    return client.post(address, json.dumps(body), content_type="application/json")


def test_a_phone_is_given_the_facts_and_keeps_what_is_refused(member, job) -> None:
    told = member.get(reverse("walk-data", args=[job.id])).json()
    items = {each["id"]: each for room in told["rooms"] for each in room["items"]}
    item = job.items.get(rule="box-flush", subject="R22")
    (fix,) = items[str(item.id)]["fixes"]
    assert (fix["path"], fix["most"]) == (SETBACK, 6)
    assert from_phone(Client(), job, changes=[flush()]).status_code == 401
    moved = from_phone(member, job, changes=[{"path": SETBACK, "was": 1.0, "now": 6.0}])
    assert (moved.status_code, moved.json()["state"]) == (200, "refused")
    assert moved.json()["says"]
    beyond = from_phone(member, job, changes=[flush(now="deep")])
    assert (beyond.status_code, beyond.json()["state"]) == (200, "refused")
    assert not FactCorrection.objects.filter(job=job).exists()
    kept = from_phone(member, job, changes=[flush(typed="6 mm")])
    assert (kept.status_code, kept.json()["state"]) == (200, "kept")
    item.refresh_from_db()
    assert item.verdict == Verdict.OK


def test_a_phone_says_how_a_circuit_was_pulled(member, job) -> None:
    told = member.get(reverse("walk-data", args=[job.id])).json()
    circuits = {each["id"]: each for each in told["circuits"]}
    circuit = next(each for each in circuits.values() if len(each["hops"]) == 1)
    (panel, box) = circuit["hops"][0]
    assert {each["id"] for each in told["nodes"]} >= {box, "R22"}
    address = reverse("walk-pulled", args=[job.id])
    body = {"id": str(uuid4()), "circuit": circuit["id"], "shown": circuit["hops"]}

    def given(client: Client, **more: Any):
        return client.post(address, json.dumps(body | more), content_type="application/json")

    assert given(Client(), hops=circuit["hops"]).status_code == 401
    assert given(member, hops=[[panel]]).status_code == 400
    same = given(member, hops=circuit["hops"])
    assert (same.status_code, same.json()["state"]) == (200, "refused")
    moved = given(member, hops=[[panel, "R22"], ["R22", box]], shown=[[panel, "R22"]])
    assert moved.json()["state"] == "refused"
    assert f"{panel} – {box}" in moved.json()["says"]
    kept = given(member, hops=[[panel, "R22"], ["R22", box]])
    assert kept.json()["state"] == "kept"
    assert given(member, hops=[[panel, "R22"], ["R22", box]]).json() == kept.json()
    assert FactCorrection.objects.filter(job=job).count() == 1


def test_a_phone_says_what_was_built_otherwise(member, job) -> None:
    told = member.get(reverse("walk-data", args=[job.id])).json()
    box = next(each for each in told["boxes"] if each["id"] == "R22")
    assert box["where"].startswith("wall ")
    assert {each["kind"] for each in told["devices"]} >= {"receptacle", "switch"}
    assert box["room"] in {room["id"] for room in told["rooms"]}
    address = reverse("walk-as-built", args=[job.id])
    name = str(uuid4())
    where = {"surface": "wall", "wall": box["place"]["wall"], "at_mm": 711.2, "at_typed": "28"}
    change = {"kind": "moved", "box": "R22", "shown": box["place"], "where": where}

    def given(client: Client, **more: Any):
        body = {"id": name, "change": change | more}
        return client.post(address, json.dumps(body), content_type="application/json")

    assert given(Client()).status_code == 401
    assert given(member, kind="burnt").status_code == 400
    assert given(member, where=where | {"at_mm": -1}).status_code == 400
    unread = given(member, where=where | {"at_typed": "a hand"})
    assert unread.json()["state"] == "refused"
    assert "a hand" in unread.json()["says"]
    elsewhere = given(member, shown=box["place"] | {"at_mm": 1.0})
    assert elsewhere.json()["state"] == "refused"
    kept = given(member)
    assert kept.json()["state"] == "kept"
    assert given(member).json()["id"] == kept.json()["id"]
    again = member.get(reverse("walk-data", args=[job.id])).json()
    now = next(each for each in again["boxes"] if each["id"] == "R22")
    assert now["place"] == box["place"] | {"at_mm": 711.2}
    ceiling = {"kind": "added", "room": "living", "device": "luminaire", "fed_from": ""}
    body = {"id": str(uuid4()), "change": ceiling | {"where": {"surface": "ceiling"}}}
    added = member.post(address, json.dumps(body), content_type="application/json")
    assert added.json()["state"] == "kept"
    removed = {"kind": "removed", "box": "R22", "shown": now["place"]}
    body = {"id": str(uuid4()), "change": removed}
    gone = member.post(address, json.dumps(body), content_type="application/json")
    assert gone.json()["state"] == "kept"
    circuit = again["circuits"][0]
    named = {"kind": "named", "circuit": circuit["id"], "shown": circuit["name"], "name": "Sauna"}
    body = {"id": str(uuid4()), "change": named}
    called = member.post(address, json.dumps(body), content_type="application/json")
    assert called.json()["state"] == "kept"
    last = member.get(reverse("walk-data", args=[job.id])).json()
    assert "R22" not in {each["id"] for each in last["boxes"]}
    assert last["circuits"][0]["name"] == "Sauna"

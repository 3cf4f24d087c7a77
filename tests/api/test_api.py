"""The API: the same reads and writes, with refusals as problem details."""

import pytest
from django.core.management import call_command

from inspections.checker import Verdict

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def area(job):
    return job.areas.get(code="bedroom")


def as_(client, person):
    client.force_login(person)
    return client


def test_jobs_with_their_areas_and_holds(client, shop, job) -> None:
    (found,) = as_(client, shop.builder).get("/api/jobs").json()
    assert found["stage"] == "permit" or found["stage"] == "rough-in"
    assert {area["code"]: area["cleared"] for area in found["areas"]} == {
        "living": False,
        "bedroom": False,
        "garage": False,
    }
    assert found["areas"][0]["holds"][0]["lifted_by"]
    assert client.get(f"/api/jobs/{job.id}").json()["permit"]["number"] == "FH-1"


def test_items_tell_their_finding_and_standing(client, shop, job) -> None:
    items = as_(client, shop.lead).get(f"/api/jobs/{job.id}/items").json()
    assert len(items) == job.items.count()
    look = next(item for item in items if item["verdict"] == "look")
    assert look["standing"] == "open"
    assert look["finding"]["working"]


def test_an_observation_and_then_a_clearance(client, shop, area) -> None:
    item = area.items.get(verdict=Verdict.LOOK)
    kind = "application/json"
    url = f"/api/items/{item.id}/observations"
    given = {"outcome": "pass", "seen_at": "2026-03-16T09:30:00-06:00"}
    made = as_(client, shop.lead).post(url, given, kind)
    assert made.status_code == 201
    assert [seen["outcome"] for seen in client.get(url).json()] == ["pass"]
    url = f"/api/areas/{area.id}/clearances"
    given = {"basis": "accepted", "reference": "R1"}
    assert client.post(url, given, kind).status_code == 403
    assert as_(client, shop.office).post(url, given, kind).status_code == 201
    taken = client.delete(url, {"because": "called back"}, kind).json()
    assert taken["withdrawn_because"] == "called back"
    assert len(client.get(url).json()) == 1


def test_a_held_area_is_refused_with_its_holds(client, shop, area) -> None:
    url = f"/api/areas/{area.id}/clearances"
    given = {"basis": "accepted", "reference": "R1"}
    answer = as_(client, shop.office).post(url, given, "application/json")
    assert answer.status_code == 409
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert answer.json()["errors"][0]["path"] == "open"


def test_a_request_with_faults_names_each(client, shop, area) -> None:
    url = f"/api/areas/{area.id}/clearances"
    answer = as_(client, shop.office).post(url, {"basis": "hope"}, "application/json")
    assert answer.status_code == 400
    assert {error["path"] for error in answer.json()["errors"]} == {"/basis", "/reference"}


def test_strangers_get_404_and_nobody_gets_in_unsigned(client, stranger_shop, job, area) -> None:
    item = area.items.first()
    paths = [
        f"/api/jobs/{job.id}",
        f"/api/jobs/{job.id}/items",
        f"/api/items/{item.id}/observations",
        f"/api/areas/{area.id}/clearances",
    ]
    assert {client.get(path).status_code for path in paths} == {403}
    as_(client, stranger_shop.office)
    assert {client.get(path).status_code for path in paths} == {404}
    assert client.get("/api/jobs").json() == []


def test_the_schema_is_complete_and_valid(tmp_path) -> None:
    path = tmp_path / "schema.yaml"
    call_command("spectacular", file=str(path), validate=True, fail_on_warn=True)
    assert "/api/areas/{area_id}/clearances" in path.read_text()

"""The API: the same reads and writes, with refusals as problem details."""

import pytest
from django.core.management import call_command
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.services.facts import changing_facts

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
    (found,) = as_(client, shop.builder).get("/api/jobs").json()["results"]
    assert found["stage"] == "permit" or found["stage"] == "rough-in"
    assert {area["code"]: area["released"] for area in found["areas"]} == {
        "living": False,
        "bedroom": False,
        "garage": False,
    }
    assert found["areas"][0]["holds"][0]["lifted_by"]
    assert client.get(f"/api/jobs/{job.id}").json()["permit"]["number"] == "FH-1"


def test_items_tell_their_finding_and_standing(client, shop, job) -> None:
    items = as_(client, shop.lead).get(f"/api/jobs/{job.id}/items").json()["results"]
    assert len(items) == job.items.count()
    look = next(item for item in items if item["verdict"] == "verify")
    assert look["standing"] == "open"
    assert look["finding"]["working"]


JSON = "application/json"


def test_from_an_observation_to_a_cover_release(client, shop, job, area) -> None:
    shop.look_at(area)
    item = area.items.filter(verdict=Verdict.VERIFY, stage="finish").first()
    url = f"/api/items/{item.id}/observations"
    given = {"outcome": "ok", "seen_at": timezone.now().isoformat()}
    made = as_(client, shop.lead).post(url, given, JSON)
    assert made.status_code == 201
    assert [seen["outcome"] for seen in client.get(url).json()["results"]] == ["ok"]

    as_(client, shop.office)
    given = {"kind": "rough_in", "areas": ["bedroom"]}
    inspection = client.post(f"/api/jobs/{job.id}/inspections", given, JSON).json()
    window = {"starts_at": "2026-03-02T09:00:00-07:00", "ends_at": "2026-03-02T11:00:00-07:00"}
    url = f"/api/inspections/{inspection['id']}/events"
    assert client.post(url, {"happening": "booked"} | window, JSON).status_code == 201
    given = {
        "reference": "R1",
        "answers": {"bedroom": "with_deficiencies"},
        "called": [{"area": "bedroom", "what": "no plate", "section": "12-516"}],
    }
    told = client.post(f"/api/inspections/{inspection['id']}/answer", given, JSON)
    assert [event["happening"] for event in told.json()["events"]] == ["booked", "held"]
    (called,) = client.get(f"/api/jobs/{job.id}/deficiencies").json()["results"]
    client.post(f"/api/deficiencies/{called['id']}/corrected")

    releasing = f"/api/areas/{area.id}/cover-releases"
    assert "corrected deficiency waits" in client.post(releasing).json()["errors"][0]["detail"]
    given = {"kind": "rough_in", "areas": ["bedroom"]}
    again = client.post(f"/api/jobs/{job.id}/inspections", given, JSON).json()["id"]
    client.post(f"/api/inspections/{again}/events", {"happening": "booked"} | window, JSON)
    given = {"reference": "R2", "answers": {"bedroom": "accepted"}, "lifted": [called["id"]]}
    assert client.post(f"/api/inspections/{again}/answer", given, JSON).status_code == 201
    assert as_(client, shop.lead).post(releasing).status_code == 403
    assert as_(client, shop.office).post(releasing).json()["reference"] == "R2"
    given = {"because": "called back"}
    taken = client.post(f"/api/areas/{area.id}/withdrawal", given, JSON).json()
    assert taken["withdrawn_because"] == "called back"
    entries = client.get(f"/api/jobs/{job.id}/record").json()["results"]
    assert entries[-1]["action"] == "cover release withdrawn"
    assert {entry["origin"] for entry in entries} == {"command", "api"}


def test_what_is_as_drawn_is_confirmed_room_by_room(client, shop, job) -> None:
    address = f"/api/jobs/{job.id}/as-drawn"
    rooms = as_(client, shop.member).get(address).json()["results"]
    (hall,) = [each for each in rooms if each["room"] == "hall"]
    assert (hall["area"], hall["items"][0]["standing"]) == ("bedroom", "open")
    items = [
        {"item": each["id"], "fingerprint": each["finding"]["fingerprint"]}
        for each in hall["items"]
    ]
    changed = [items[0], items[1] | {"fingerprint": "0" * 16}]
    assert client.post(address, {"items": changed}, JSON).status_code == 409
    looks = client.post(address, {"items": items, "note": "walked"}, JSON).json()["results"]
    assert {(each["outcome"], each["given"], each["note"]) for each in looks} == {
        ("ok", "room", "walked")
    }
    assert len(looks) == len(items) > 5
    again = client.post(address, {"items": items[:1]}, JSON)
    assert (again.status_code, again.json()["detail"].partition(": ")[2]) == (
        409,
        "it is answered already. Nothing was recorded; confirm what is left.",
    )
    left = client.get(address).json()["results"]
    assert [each["room"] for each in left] == [r["room"] for r in rooms if r["room"] != "hall"]
    (entry,) = client.get(f"/api/jobs/{job.id}/record", {"action": "room confirmed"}).json()[
        "results"
    ]
    assert entry["detail"]["count"] == len(items)


def test_a_record_is_narrowed_to_an_action_whatever_it_was_called_then(client, shop, job) -> None:
    for action in ("deficiency mended", "deficiency corrected", "correction left"):
        with changing_facts(shop.office, action, job.id, area_ids=[]):
            pass
    address = f"/api/jobs/{job.id}/record"
    as_(client, shop.office)

    def found(action: str) -> list[str]:
        entries = client.get(address, {"action": action}).json()["results"]
        return [entry["action"] for entry in entries]

    assert found("deficiency corrected") == ["deficiency mended", "deficiency corrected"]
    assert found("site change left") == ["correction left"]
    assert found("deficiency mended") == ["deficiency mended"]


def test_the_earliest_inspection_with_its_working(client, shop, job) -> None:
    found = as_(client, shop.office).get(f"/api/jobs/{job.id}/earliest-inspection").json()
    assert found["starts"] > timezone.now().isoformat()
    assert found["working"][0].startswith("Requested ")


def test_a_held_area_is_refused_with_its_holds(client, shop, area) -> None:
    answer = as_(client, shop.office).post(f"/api/areas/{area.id}/cover-releases")
    assert answer.status_code == 409
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert [error["detail"].split()[-1] for error in answer.json()["errors"]] == [
        "site.",
        "site.",
        "yet.",
    ]


def test_an_inspection_asked_for_too_early_must_be_insisted_on(client, shop, job) -> None:
    url, given = f"/api/jobs/{job.id}/inspections", {"kind": "rough_in", "areas": ["bedroom"]}
    refused = as_(client, shop.office).post(url, given, JSON)
    assert refused.status_code == 409
    assert "request with items open" in refused.json()["detail"]
    made = client.post(url, given | {"insist": True}, JSON)
    assert made.json()["insisted"]


def test_a_request_with_faults_names_each(client, shop, job) -> None:
    url = f"/api/jobs/{job.id}/inspections"
    answer = as_(client, shop.office).post(url, {"kind": "picnic", "areas": 7}, JSON)
    assert answer.status_code == 400
    assert {error["pointer"] for error in answer.json()["errors"]} == {"#/kind", "#/areas"}
    answer = client.post(url, {"kind": "rough_in", "areas": ["roof"]}, JSON)
    assert answer.status_code == 422
    assert "no area “roof”" in answer.json()["detail"]


def test_strangers_get_404_and_nobody_gets_in_unsigned(client, stranger_shop, job, area) -> None:
    item = area.items.first()
    paths = [
        f"/api/jobs/{job.id}",
        f"/api/jobs/{job.id}/items",
        f"/api/items/{item.id}/observations",
        f"/api/areas/{area.id}/cover-releases",
        f"/api/jobs/{job.id}/inspections",
        f"/api/jobs/{job.id}/deficiencies",
        f"/api/jobs/{job.id}/record",
        f"/api/jobs/{job.id}/earliest-inspection",
    ]
    assert {client.get(path).status_code for path in paths} == {401}
    as_(client, stranger_shop.office)
    assert {client.get(path).status_code for path in paths} == {404}
    assert client.get("/api/jobs").json()["results"] == []


def test_the_schema_is_complete_and_valid(tmp_path) -> None:
    path = tmp_path / "schema.yaml"
    call_command("spectacular", file=str(path), validate=True, fail_on_warn=True)
    assert "/api/areas/{area_id}/cover-releases" in path.read_text()

"""Plans and crews' days for programs: the same as for people, to the same people alone."""

from datetime import UTC, date, datetime

import pytest

from jobs.models import Absence, Crew, Plan
from tests.clock import Clock
from tests.days.crewed import crewed, made

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def clock(monkeypatch) -> Clock:
    """The Friday before, in the afternoon."""
    return Clock(datetime(2026, 3, 13, 20, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(shop, house_bytes):
    crewed(shop)
    return shop.roughed_in(house_bytes)


def post(client, address, data=None):
    return client.post(address, data or {}, content_type="application/json")


def test_a_plan_is_asked_for_looked_at_and_told(client, shop, job) -> None:
    client.force_login(shop.office)
    asked = post(client, "/api/plans", {"first_day": "2026-03-16"})
    assert (asked.status_code, asked.json()["state"]) == (202, "asked")
    plan = made(shop)
    whole = client.get(f"/api/plans/{plan.id}").json()
    assert {work["task"] for work in whole["work"]} >= {"panel", "rough-in/living"}
    assert client.get("/api/plans").json()["results"][0]["id"] == str(plan.id)
    told = post(client, f"/api/plans/{plan.id}/told")
    assert told.json()["told_at"]
    crew = Crew.objects.get(name="Crew A")
    assert client.get("/api/crews").json()["results"][0]["name"] == "Crew A"
    day = f"/api/crews/{crew.id}/day?day=2026-03-16"
    assert client.get(day).json()["number"] is None
    assert post(client, day).json()["number"] == 1
    assert client.get(day).json()["content"]["crew"] == "Crew A"
    bad = client.get(f"/api/crews/{crew.id}/day?day=monday")
    assert (bad.status_code, "is not a date" in str(bad.json()["errors"])) == (400, True)


def test_a_lead_reports_absences_and_work(client, shop, job) -> None:
    client.force_login(shop.lead)
    days = {"from_day": "2026-03-16", "to_day": "2026-03-17"}
    sent = post(client, "/api/absences", {"person": shop.member.username, **days})
    assert sent.status_code == 201
    assert shop.own(Absence).get().person == shop.member
    stranger = post(client, "/api/absences", {"person": "nobody", **days})
    assert stranger.status_code == 422
    assert post(client, f"/api/jobs/{job.id}/work", {"task": "panel"}).status_code == 201


def test_the_office_changes_a_crew(client, shop, job, stranger_shop) -> None:
    crew = shop.own(Crew).get(name="Crew A")
    address = f"/api/crews/{crew.id}"
    client.force_login(shop.office)
    given = {"name": "Crew Z", "lead": shop.member.username, "stood_down_on": "2026-06-01"}
    told = client.patch(address, given, content_type="application/json")
    assert (told.status_code, told.json()["lead"]) == (200, shop.member.username)
    crew.refresh_from_db()
    assert (crew.name, crew.lead, crew.stood_down_on) == ("Crew Z", shop.member, date(2026, 6, 1))
    given = {"lead": stranger_shop.lead.username}
    refused = client.patch(address, given, content_type="application/json")
    assert (refused.status_code, "works at" in refused.json()["detail"]) == (422, True)
    client.patch(address, {"lead": None}, content_type="application/json")
    crew.refresh_from_db()
    assert (crew.name, crew.lead) == ("Crew Z", None)
    client.force_login(shop.member)
    assert client.patch(address, {}, content_type="application/json").status_code in (403, 404)
    client.force_login(stranger_shop.office)
    assert client.patch(address, {}, content_type="application/json").status_code == 404


def test_the_office_says_where_a_house_stands_what_is_promised_and_what_it_adds(
    client, shop, job
) -> None:
    client.force_login(shop.office)
    place = {"latitude": 53.5, "longitude": -113.5}
    address = f"/api/jobs/{job.id}/place"
    assert client.put(address, place, content_type="application/json").json() == place
    place["latitude"] = 91
    assert client.put(address, place, content_type="application/json").status_code == 400
    assert (job.site.latitude, job.site.longitude) == (53.5, -113.5)
    for day in ("2026-04-01", "2026-04-02"):
        promised = post(client, f"/api/jobs/{job.id}/promises", {"promised": "finish", "on": day})
        assert promised.status_code == 201
    assert [str(each) for each in job.promised.all()] == ["finish done by 2026-04-02"]
    task = {"name": "trench", "minutes": 600, "area": "garage", "due_on": "2026-04-01"}
    added = post(client, f"/api/jobs/{job.id}/tasks", task)
    assert (added.status_code, added.json()["area"]) == (201, "garage")
    made_task = job.own_tasks.get()
    assert (made_task.name, made_task.minutes, made_task.area.code) == ("trench", 600, "garage")
    task["not_before"] = "2026-05-01"
    said = post(client, f"/api/jobs/{job.id}/tasks", task).json()["detail"]
    assert "due Apr 1, 2026, before it can start on May 1, 2026." in said
    client.force_login(shop.lead)
    assert client.put(address, place, content_type="application/json").status_code == 403
    for name in ("promises", "tasks"):
        assert post(client, f"/api/jobs/{job.id}/{name}").status_code == 403


def test_a_past_day_is_refused(client, shop, job) -> None:
    client.force_login(shop.office)
    refused = post(client, "/api/plans", {"first_day": "2026-03-01"})
    assert (refused.status_code, "is past" in refused.json()["detail"]) == (422, True)
    assert not shop.own(Plan).exists()


def test_others_get_nothing(client, shop, job, stranger_shop) -> None:
    plan = made(shop)
    crew = shop.own(Crew).first()
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(f"/api/plans/{plan.id}").status_code == 404
        assert post(client, f"/api/plans/{plan.id}/told").status_code == 404
        assert client.get(f"/api/crews/{crew.id}/day").status_code == 404
    client.force_login(shop.lead)
    assert client.get("/api/plans").status_code == 404
    assert client.get(f"/api/plans/{plan.id}").status_code == 404

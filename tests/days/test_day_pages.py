"""The office's plan and the crews' lists on pages: shown, asked for, told, sent, to whom alone."""

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse

from jobs.models import Absence, Crew, DayList, Plan, Skill, WorkRules
from tests.clock import Clock
from tests.days.crewed import MONDAY, crewed, made, told

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def clock(monkeypatch) -> Clock:
    """The Friday before, in the afternoon."""
    return Clock(datetime(2026, 3, 13, 20, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(shop, house_bytes):
    crewed(shop)
    job = shop.roughed_in(house_bytes)
    job.drywall_on = MONDAY + timedelta(days=2)
    job.save()
    return job


@pytest.fixture
def office(client, shop):
    client.force_login(shop.office)
    return client


def test_the_office_asks_looks_and_tells(office, shop, job) -> None:
    assert "No plan yet." in office.get("/plan/").text
    office.post("/plan/ask/", {"first_day": "2026-03-16"})
    plan = shop.own(Plan).get()
    assert "Working on this plan." in office.get(f"/plan/{plan.id}/").text
    plan = made(shop)
    page = office.get(f"/plan/{plan.id}/").text
    assert "Lot 15: drywall date, " in page
    assert " LATE</text>" in page
    assert "What would help" in page
    assert "<svg" in page
    assert "Crew A" in page
    office.post(f"/plan/{plan.id}/tell/")
    assert "sent 2026-03-13" in office.get(f"/plan/{plan.id}/").text
    assert "Lot 15" in office.get(f"/plan/{plan.id}/month/").text


def test_a_refused_plan_says_why(office, shop) -> None:
    Plan.objects.create(
        shop=shop.shop,
        asked_by=shop.office,
        asked_at=datetime(2026, 3, 13, tzinfo=UTC),
        first_day=MONDAY,
        state=Plan.State.REFUSED,
        faults=["There is no crew."],
    )
    assert "There is no crew." in office.get("/plan/", follow=True).text


def test_supposing_needs_somebody(office, shop, job) -> None:
    page = office.post(
        "/plan/ask/", {"first_day": "2026-03-16", "what": "away", "who": "x"}, follow=True
    )
    assert "Choose who is away" in page.text
    assert not shop.own(Plan).exists()
    given = {"first_day": "2026-03-16", "what": "away", "who": str(shop.lead.id)}
    office.post("/plan/ask/", given)
    assert shop.own(Plan).get().supposing[0]["what"] == "away"


def test_a_crew_lead_sees_their_own_list_alone(client, shop, job) -> None:
    told(shop)
    mine, other = shop.own(Crew).order_by("name")
    client.force_login(shop.lead)
    page = client.get("/crews/day/", follow=True).text
    assert "Crew A, Monday 16 March" in page.replace("Saturday 14", "Monday 16")
    page = client.get(f"/crews/{mine.id}/day/?day=2026-03-16").text
    assert "arrive 8:00\u202fAM" in page
    assert "Bring" in page
    assert client.get(f"/crews/{other.id}/day/").status_code == 404
    assert client.get("/plan/").status_code == 404
    pdf = client.get(f"/crews/{mine.id}/day.pdf?day=2026-03-16")
    assert pdf.content.startswith(b"%PDF")
    ics = client.get(f"/crews/{mine.id}/day.ics?day=2026-03-16")
    assert ics.content.startswith(b"BEGIN:VCALENDAR")
    client.post(f"/crews/{mine.id}/send/", {"day": "2026-03-16"})
    assert shop.own(DayList).get().crew == mine
    assert "number 1" in client.get(f"/crews/{mine.id}/day/?day=2026-03-16").text


def test_builders_and_strangers_see_neither_plan_nor_list(client, shop, job, stranger_shop) -> None:
    plan = told(shop)
    crew = shop.own(Crew).first()
    for person in (shop.builder, stranger_shop.office, stranger_shop.lead):
        client.force_login(person)
        for address in (f"/plan/{plan.id}/", f"/crews/{crew.id}/day/", f"/crews/{crew.id}/day.pdf"):
            assert client.get(address).status_code == 404
        assert "The day" not in client.get("/").text or person != shop.builder


def test_the_office_keeps_crews_skills_and_absences(office, shop) -> None:
    office.post("/crews/open/", {"name": "Crew C", "person": str(shop.lead.id)})
    crew = shop.own(Crew).get()
    office.post(
        f"/crews/{crew.id}/place/", {"person": str(shop.member.id), "from_day": "2026-03-16"}
    )
    office.post("/crews/skill/", {"person": str(shop.member.id), "skill": Skill.LICENSED})
    days = {"from_day": "2026-03-16", "to_day": "2026-03-17"}
    office.post("/crews/absence/", {"person": str(shop.member.id), "why": "ill", **days})
    page = office.get("/crews/").text
    assert "Member Tester, from 2026-03-16 · licensed" in page
    assert "Member Tester, 2026-03-16 to 2026-03-17: ill" in page
    office.post(reverse("absence-end", args=[shop.own(Absence).get().id]))
    assert not shop.own(Absence).exists()


def test_bad_days_are_refused_in_words(office, shop) -> None:
    days = {"from_day": "2026-03-18", "to_day": "2026-03-17"}
    page = office.post("/crews/absence/", {"person": str(shop.member.id), **days}, follow=True).text
    assert "The last day, Mar 17, 2026, is before the first, Mar 18, 2026." in page
    assert not shop.own(Absence).exists()


def test_rates_are_edited_one_a_line(office, shop) -> None:
    page = office.get("/crews/rules/").text
    assert "box_rough_in 12" in page
    form = {
        "works_on": ["0", "1", "2", "3"], "from_hour": "07:00", "parts": "2",
        "part_minutes": "270", "break_minutes": "30", "weeks": "6", "cover_days": "10",
        "change_cost": "1", "speed_kmh": "40", "rates": "box_rough_in 15",
    }  # fmt: skip
    office.post("/crews/rules/", form)
    kept = shop.own(WorkRules).get()
    assert (kept.works_on, kept.rates) == ([0, 1, 2, 3], {"box_rough_in": 15})
    page = office.post("/crews/rules/", form | {"rates": "boxes 15"}).text
    assert "There is no rate boxes." in page


def test_driving_times_are_refused_line_by_line(office, shop, job) -> None:
    page = office.post("/crews/driving/", {"table": "yard,Lot 99,5\nyard,Lot 15,x"}, follow=True)
    assert "Line 1: there is no job named “Lot 99”." in page.text
    assert "Line 2: “x” is not minutes from 0 to 600." in page.text

"""Everything that shows a day or an hour, under every clock: it answers, and its days are right."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.utils import timezone

from inspections.days.problem import shop_now
from inspections.days.services import day_lists_send
from inspections.models import AreaStanding, Inspection, InspectionKind
from inspections.overview.inspections import earliest_inspection_of
from inspections.services.inspections import inspection_ask
from inspections.services.links import cover_link_make
from inspections.services.permits import permit_extend
from inspections.services.settling import job_settle
from jobs.models import Job
from jobs.services.crews import absence_record
from notifications.services.feeds import feed_open
from notifications.tasks import tick
from tests.clocks import HOUSE, house_day
from tests.days.crewed import crewed, told
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = [pytest.mark.django_db, pytest.mark.every_clock, pytest.mark.any_database]
FACES = (
    "/",
    "/today/",
    "/figures/",
    "/crews/",
    "/crews/day/",
    "/jobs/{job}/",
    "/jobs/{job}/record/",
    "/jobs/{job}/notices/",
    "/walk/{job}/data",
    "/areas/{area}/timeline/",
    "/api/jobs/{job}/moves",
    "/api/jobs/{job}/earliest-inspection",
    "/api/figures",
    "/l/{cover}",
    "/calendars/{feed}.ics",
    "/crews/{crew}/day/?day={tomorrow}",
    "/api/crews/{crew}/day?day={tomorrow}",
)


@pytest.fixture
def job(shop) -> Job:
    """A job with one area released, and all seen to in the other."""
    made: Job = shop.roughed_in(HOUSES["clean"])
    east, west = (made.areas.get(code=code) for code in ("east", "west"))
    shop.release(east)
    shop.look_at(west)
    return made


def test_every_face_answers(shop, job) -> None:
    crew, _ = crewed(shop)
    today = house_day()
    last = today + timedelta(days=2)
    absence_record(shop.office, shop=shop.shop, person=shop.member, from_day=today, to_day=last)
    plan = told(shop, today)
    assert date.fromisoformat(plan.days[0]) >= today
    day_lists_send(shop.office, shop=shop.shop, day=house_day(1))
    _, cover = cover_link_make(shop.office, job=job, for_whom="Pat")
    tick()
    ids = {
        "job": job.id,
        "area": job.areas.first().id,
        "crew": crew.id,
        "cover": cover,
        "feed": feed_open(shop.office, shop=shop.shop).token,
        "tomorrow": house_day(1),
    }
    client = Client()
    client.force_login(shop.office)
    for face in FACES:
        answer = client.get(face.format(**ids))
        assert answer.status_code == 200, face


def test_a_permit_holds_from_the_day_after_its_last_at_the_house(shop, job) -> None:
    permit_extend(shop.office, permit=job.permit, expires_on=house_day())
    east = job.areas.get(code="east")
    assert AreaStanding.objects.get(area=east).released
    job_settle(job.id)
    job.refresh_from_db()
    ends = job.standing.next_at.astimezone(HOUSE)
    assert (ends.date(), ends.hour, ends.minute) == (house_day(1), 0, 0)


def test_an_inspection_is_booked_for_hours_at_the_house(client, shop, job) -> None:
    west = job.areas.get(code="west")
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[west])
    client.force_login(shop.office)
    given = {"happening": "booked", "day": house_day(1), "starts": "08:00", "ends": "16:00"}
    client.post(f"/inspections/{inspection.id}/happening/", given)
    starts, ends = (at.astimezone(HOUSE) for at in _window(inspection))
    assert (starts.date(), starts.hour, ends.hour) == (house_day(1), 8, 16)
    job_settle(job.id)
    assert job.name in client.get("/today/").text


def _window(inspection: Inspection) -> tuple[datetime, datetime]:
    event = inspection.events.get()
    return sure(event.starts_at), sure(event.ends_at)


def test_the_earliest_inspection_is_on_a_working_day_ahead(job) -> None:
    found = earliest_inspection_of(job)
    starts, now = found.starts.astimezone(HOUSE), timezone.now().astimezone(HOUSE)
    assert starts.date() > now.date()
    assert starts.weekday() < 5
    assert timedelta() < found.ends - found.starts <= timedelta(hours=8)


def test_the_day_of_a_shop_is_the_day_there(shop) -> None:
    shop.shop.time_zone = "Pacific/Kiritimati"
    there = timezone.now().astimezone(ZoneInfo("Pacific/Kiritimati")).date()
    assert shop_now(shop.shop, timezone.now()).date() == there

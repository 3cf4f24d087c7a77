"""No face says that an area is clear by a copy whose moment has passed, or that was set aside."""

import ast
import json
import re
from datetime import UTC, datetime, timedelta
from importlib import import_module
from io import BytesIO
from pathlib import Path
from pkgutil import iter_modules
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from config.languages import say
from config.messages.message import Message
from inspections.days.lists import draw_lists
from inspections.models import CoverRelease, Happening, InspectionKind, JobStanding
from inspections.papers.load_sheets import LoadSheet, job_sheet_pdf, outside_of
from inspections.record.checks import check_address
from inspections.selectors import job_read, latest_revision
from inspections.services import settling
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.links import cover_link_make, placard_make
from inspections.services.permits import permit_extend
from inspections.services.settling import job_settle, settled_or_set_aside
from inspections.standing.age import Age, Sign, age_of, sign_at
from jobs.models import Job
from notifications import reasons
from notifications.links import seen_link
from notifications.models import Channel, Delivery, Lane, Notice
from notifications.reason import Reason
from notifications.services.sending import deliver
from notifications.services.wishes import address_add
from notifications.telling import SAYS_CLEAR
from tests.clock import Clock
from tests.clocks import house_day
from tests.inspections.tiny import HOUSES
from tests.matrix import addresses
from tests.sure import sure, the_first
from tests.test_access import clients, ids, on_a_sunday, path_for  # noqa: F401  fixtures among them

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).parent.parent
DAY, HOUR = timedelta(days=1), timedelta(hours=1)
SAYS = re.compile(
    r">CLEAR<|>OK TO COVER<|sign clear|clear-band|area may be covered|OK to cover this area"
    r"|: may be covered|: may start|: OK to start|OK TO COVER\. Reference|OK to cover since"
    r'|area is released|"released":true'
)
HISTORY = {
    *("job-notices", "message", "messages", "api-changes", "api-record", "record", "api-schema"),
}
"""What tells what was said, and when: it is not unsaid. The schema tells of no job."""


class Left:
    """A job with every area released whose permit ends in two days; and then nobody settles it."""

    def __init__(self, monkeypatch, shop, job: Job) -> None:
        self.clock = Clock(timezone.now()).put(monkeypatch)
        self.job, self.shop = job, shop
        last = self.clock.now.astimezone(ZoneInfo(job.time_zone)).date() + 2 * DAY
        permit_extend(shop.office, permit=job.permit, expires_on=last)
        job_settle(job.id)
        midnight = datetime.combine(last + DAY, datetime.min.time(), ZoneInfo(job.time_zone))
        self.ended = midnight.astimezone(UTC)

    def alone(self) -> None:
        """An hour after the permit ended, with no worker alive."""
        JobStanding.objects.filter(job=self.job).update(next_at=self.ended)  # no notice before it
        self.clock.now = self.ended + HOUR


@pytest.fixture
def left(monkeypatch, shop) -> Left:
    job = shop.roughed_in(HOUSES["clean"])
    for area in job.areas.all():
        shop.release(area, reference=f"R-{area.code}")
    return Left(monkeypatch, shop, job)


TELL = {"o job", "b job", "o jobs", "b jobs", "n link", "o api-job", "b api-jobs"}
"""Faces that say of an area that it is clear, and to whom."""


def said(clients, ids, left_out: str, some: set[str] | None = None) -> dict[str, str]:  # noqa: F811
    """What every address, or some, tells each reader who gets in, as text."""
    found = {}
    for letter in "obn":
        for name, pattern in addresses():
            asked = name is not None and (some is None or f"{letter} {name}" in some)
            if not asked or (left_out and left_out in pattern):
                continue
            answer = clients[letter].get(path_for(name, pattern, letter, ids))
            if answer.status_code == 200:
                found[f"{letter} {name}"] = _text(answer)
    return found


def _text(answer) -> str:
    content = b"".join(getattr(answer, "streaming_content", ())) or answer.content
    if content.startswith(b"%PDF"):
        return "\n".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    if "json" in answer.headers["Content-Type"]:
        return json.dumps(json.loads(content), separators=(",", ":"))
    return content.decode("utf-8", "replace")


def test_with_no_worker_alive_no_face_says_that_anything_is_clear(
    monkeypatch,
    shop,
    clients,  # noqa: F811
    ids,  # noqa: F811
    whole,
) -> None:
    job = Job.objects.get(id=ids["job_id"])
    for person in (shop.office, shop.builder):
        Notice.objects.filter(person=person).update(seen_at=None)
    left = Left(monkeypatch, shop, job)
    papers = "" if whole else ".pdf"  # they say nothing of the kind, and take long to read
    before = said(clients, ids, papers, None if whole else TELL)
    clear = {face for face, text in before.items() if SAYS.search(text)}
    assert clear >= TELL
    left.alone()
    clients["o"].force_login(shop.office)  # a session that nobody used ended meanwhile
    clients["b"].force_login(shop.builder)
    after = said(clients, ids, papers)
    assert set(before) <= set(after)
    wrong = {face for face, text in after.items() if SAYS.search(text)}
    assert {face for face in wrong if face.split(" ")[1] not in HISTORY} == set()
    for face in clear & set(after):
        aged = "Not checked since" in after[face] or '"current":false' in after[face]
        assert aged or face.split(" ")[1] in HISTORY, face
    assert "Not checked since" in after["n paper"]
    assert "Not checked since" in after["o job-notices"]


def test_a_placard_and_a_link_that_are_open_change_by_themselves(client, left) -> None:
    area = left.job.areas.get(code="east")
    addresses = []
    for _, secret in (
        cover_link_make(left.shop.office, job=left.job, for_whom="Pat"),
        placard_make(left.shop.lead, area=area),
    ):
        addresses.append(reverse("link", args=[secret]))
    htmx = {"HX-Request": "true"}
    for address in addresses:
        assert SAYS.search(client.get(address, headers=htmx).text)
    left.alone()
    for address in addresses:
        for headers in ({}, htmx):
            text = client.get(address, headers=headers).text
            assert not SAYS.search(text)
            assert "NOT CHECKED" in text
            assert "Do not cover. Not checked since" in text


def test_the_offices_lists_say_since_when(client, left) -> None:
    client.force_login(left.shop.office)
    for path in ("/", "/today/"):
        assert SAYS.search(client.get(path).text)
    left.alone()
    client.force_login(left.shop.office)
    for path in ("/", "/today/"):
        text = client.get(path).text
        assert not SAYS.search(text)
        assert "NOT CHECKED" in text
        assert "Not checked since" in text


def test_a_job_that_was_set_aside_is_not_clear_either(client, left, monkeypatch) -> None:
    def poison(*_given):
        raise ZeroDivisionError

    client.force_login(left.shop.builder)
    address = f"/jobs/{left.job.id}/"
    assert "OK to cover this area." in client.get(address).text
    monkeypatch.setattr(settling, "job_stage", poison)
    assert not settled_or_set_aside(left.job.id)
    assert not SAYS.search(client.get(address).text)
    monkeypatch.undo()
    assert settled_or_set_aside(left.job.id)
    assert "OK to cover this area." in client.get(address).text


def test_the_hookup_sheet_does_not_know_of_the_rough_in(left) -> None:
    job = job_read(left.shop.office, left.job.id)
    assert outside_of(job).rough_in_accepted is True
    left.alone()
    job = job_read(left.shop.office, left.job.id)
    assert outside_of(job).rough_in_accepted is None
    pdf = job_sheet_pdf(job, sure(latest_revision(job)), LoadSheet.HOOKUP)
    text = PdfReader(BytesIO(pdf)).pages[0].extract_text()
    assert "Not checked since" in text


def test_the_check_of_a_paper_says_that_nobody_knows(client, left) -> None:
    token = check_address(left.job, sure(latest_revision(left.job))).split("/")[-2]
    assert "This paper is current" in client.get(f"/paper/{token}/").text
    left.alone()
    text = client.get(f"/paper/{token}/").text
    assert "This paper is current" not in text
    assert "Not checked since" in text


def test_a_crew_is_told_to_leave_it_alone(shop, monkeypatch, house_bytes) -> None:
    from tests.days.crewed import crewed, told

    job = shop.roughed_in(house_bytes)
    area = job.areas.get(code="bedroom")
    shop.release(area)
    crewed(shop)
    first = the_first(told(shop, house_day()).work.filter(crew__isnull=False, job=job))
    left = Left(monkeypatch, shop, job)

    def alone() -> list[str]:
        lists = draw_lists(shop.shop, first.starts_on)
        houses = [house for each in lists for house in each.houses]
        return [say(line) for house in houses for line in house.leave_alone]

    assert not any(line.startswith(area.name) for line in alone())
    left.alone()
    (line,) = {line for line in alone() if line.startswith(area.name)}
    assert "Not checked since" in line
    assert line.endswith("Do not cover until it is checked.")


def test_a_message_that_waited_does_not_say_so_later(left, monkeypatch) -> None:
    office = left.shop.office
    given = {"person": office, "shop": left.shop.shop, "channel": Channel.EMAIL}
    address_add(office, target="office@studbay.example", **given)
    Notice.objects.all().delete()
    job_settle(left.job.id)
    assert Notice.objects.filter(reason="area released", person=office).exists()
    left.alone()
    monkeypatch.setattr(settling, "job_stage", lambda *_: 1 / 0)
    Delivery.objects.update(due_at=left.clock.now)
    for lane in Delivery.objects.values_list("lane", flat=True).distinct():
        deliver(Lane(lane), Channel.EMAIL)
    bodies = [message.body for message in mail.outbox if "Lot 15" in message.body]
    assert bodies
    assert not any("OK TO COVER" in body for body in bodies)
    assert any("Not checked since" in body for body in bodies)


def test_the_page_behind_a_message_does_not_say_so_either(client, left) -> None:
    notice = the_first(Notice.objects.filter(reason="area released", person=left.shop.builder))
    address = urlsplit(seen_link(notice.id)).path
    assert "OK TO COVER" in client.get(address).text
    left.alone()
    text = client.get(address).text
    assert "OK TO COVER" not in text
    assert "Not checked since" in text


def test_without_a_sweep_it_is_not_ready(client, left) -> None:
    assert client.get("/ready").status_code == 200
    JobStanding.objects.update(next_at=left.clock.now - timedelta(seconds=90))
    assert client.get("/ready").status_code == 200  # a sweep may be at it
    left.alone()
    answer = client.get("/ready")
    assert (answer.status_code, answer.json()) == (503, {"missing": ["sweep"]})
    JobStanding.objects.update(set_aside_at=left.clock.now)
    assert client.get("/ready").status_code == 200


def test_a_change_of_facts_says_until_when_holds_are_good_with_no_worker_alive(left) -> None:
    """The copy is drawn with the change; without a settling the end of it is known all the same."""
    left.job.permit.refresh_from_db()
    later = left.job.permit.expires_on + 30 * DAY
    permit_extend(left.shop.office, permit=left.job.permit, expires_on=later)
    standing = JobStanding.objects.get(job=left.job)
    assert standing.settled < standing.facts
    ends = sure(standing.next_at)
    assert ends.astimezone(ZoneInfo(left.job.time_zone)).date() == later + DAY
    left.clock.now = ends
    assert not age_of(standing, left.clock.now).current


MOMENTS = st.none() | st.datetimes(
    datetime(2026, 1, 1), datetime(2027, 1, 1), timezones=st.just(UTC)
)


@given(MOMENTS, MOMENTS, MOMENTS, st.booleans())
def test_clear_is_said_of_what_is_current_alone(drawn_at, next_at, set_aside_at, released) -> None:
    now = datetime(2026, 6, 1, tzinfo=UTC)
    standing = JobStanding(drawn_at=drawn_at, next_at=next_at, set_aside_at=set_aside_at)
    age = age_of(standing, now)
    assert age.current == (set_aside_at is None and (next_at is None or next_at > now))
    assert (sign_at(released, age) is Sign.CLEAR) == (released and age.current)
    assert (sign_at(released, age) is Sign.HOLD) == (not released)
    assert bool(age.words("America/Edmonton")) == (not age.current)


def test_an_age_is_told_by_the_clock_at_the_house() -> None:
    age = Age(datetime(2026, 11, 29, 5, 30, tzinfo=UTC), current=False)
    words = say(age.words("America/Edmonton"), "en")
    assert words == "Not checked since Nov 28, 2026, 10:30\u202fPM."
    assert say(Age(None, current=False).words("America/Edmonton"), "en") == "Not checked yet."


def test_no_face_reads_the_copy_itself() -> None:
    """Faces ask `area_sign`; what draws conclusions may read what it drew."""
    faces = [*sorted((ROOT / "pages").rglob("*.py")), *sorted((ROOT / "api").rglob("*.py"))]
    for path in faces:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            copied = isinstance(node, ast.Attribute) and node.attr == "released"
            assert not copied, f"{path}:{getattr(node, 'lineno', 0)}"
            asked = isinstance(node, ast.Constant) and "standing.released" in str(node.value)
            assert not asked, f"{path}:{getattr(node, 'lineno', 0)}"
    for path in sorted((ROOT / "templates").rglob("*.html")):
        assert "standing.released" not in path.read_text("utf-8"), path


def test_every_reason_that_tells_of_a_cover_release_is_known() -> None:
    """A reason whose words say that something is clear is told by `text_now`."""
    words = re.compile(r"OK TO COVER|area is released")
    found = []
    for each in iter_modules(reasons.__path__):
        module = vars(import_module(f"{reasons.__name__}.{each.name}")).values()
        if [m for m in module if isinstance(m, Message) and words.search(m.text)]:
            found.append(each.name)
            assert [r for r in module if isinstance(r, Reason) and r.id in SAYS_CLEAR], each.name
    assert found == ["area_released", "finish_ready"]


def test_a_cover_release_is_told_with_its_age(client, left) -> None:
    client.force_login(left.shop.office)
    area = left.job.areas.get(code="east")
    told = client.get(f"/api/areas/{area.id}/cover-releases").json()["results"]
    assert [each["current"] for each in told] == [True]
    assert told[0]["checked_at"] is not None
    left.alone()
    client.force_login(left.shop.office)
    told = client.get(f"/api/areas/{area.id}/cover-releases").json()["results"]
    assert [each["current"] for each in told] == [False]
    assert CoverRelease.objects.get(area=area).live  # nobody has withdrawn it yet


@pytest.mark.parametrize(("sweep", "patience"), [(60, 120), (15, 30), (3600, 180)])
def test_it_is_not_ready_once_two_sweeps_are_missing(
    client, left, settings, sweep: int, patience: int
) -> None:
    often = {"studbay_sweep_seconds": sweep}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=often)
    second = timedelta(seconds=1)
    JobStanding.objects.update(next_at=left.clock.now)
    left.clock.now += timedelta(seconds=patience) - second
    assert client.get("/ready").status_code == 200
    left.clock.now += 2 * second
    assert client.get("/ready").json() == {"missing": ["sweep"]}


def test_it_is_not_ready_either_while_facts_wait_to_be_settled(client, left) -> None:
    """A change rings the doorbell; with workers that stand still nobody answers it."""
    left.job.permit.refresh_from_db()
    later = left.job.permit.expires_on + 30 * DAY
    permit_extend(left.shop.office, permit=left.job.permit, expires_on=later)
    assert client.get("/ready").status_code == 200
    left.clock.now += timedelta(seconds=121)
    assert client.get("/ready").json() == {"missing": ["sweep"]}
    job_settle(left.job.id)
    assert client.get("/ready").status_code == 200


@pytest.mark.parametrize("settled", [True, False])
def test_a_window_that_begins_or_ends_undrawn_is_told(client, left, settled: bool) -> None:
    inspection = inspection_ask(left.shop.office, job=left.job, kind=InspectionKind.FINAL)
    begins = left.clock.now + HOUR
    window = {"starts_at": begins, "ends_at": begins + HOUR}
    inspection_happen(left.shop.office, inspection=inspection, happening=Happening.BOOKED, **window)
    if settled:
        job_settle(left.job.id)
        JobStanding.objects.filter(job=left.job, next_at__lt=begins).update(next_at=begins)
    client.force_login(left.shop.office)
    page = reverse("job", args=[left.job.id])
    assert "Not checked since" not in client.get(page).text
    for moment in window.values():
        left.clock.now = moment + timedelta(seconds=1)
        assert "Not checked since" in client.get(page).text
        job_settle(left.job.id)
        assert "Not checked since" not in client.get(page).text

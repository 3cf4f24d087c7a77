"""The pages as each person meets them."""

from datetime import UTC, date, datetime

import pytest
from django.urls import reverse
from pypdf import PdfReader

from inspections.checker.finding import Verdict
from inspections.models import CoverRelease, Observation, Outcome
from inspections.services.observations import item_observe
from inspections.services.permits import permit_apply
from jobs.models import Permit
from pages.jobs.room_rows import item_address
from tests.clock import Clock

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def area(job):
    return job.areas.get(code="bedroom")


def page(client, person, name, *args):
    client.force_login(person)
    return client.get(reverse(name, args=args))


def test_signing_in_shows_the_jobs_and_a_wrong_password_does_not(client, shop, job) -> None:
    assert client.get("/").headers["Location"] == "/sign-in/?next=/"
    wrong = client.post("/sign-in/", {"login": shop.office.username, "password": "no"})
    assert "Wrong name or password." in wrong.text
    name = {"login": shop.office.username, "password": "rough-in"}
    answer = client.post("/sign-in/", name, follow=True)
    assert job.name in answer.text
    assert answer.text.count("DO NOT COVER") == 3


def test_who_guesses_is_put_off_and_nobody_else_is(client, shop) -> None:
    wrong = {"login": shop.office.username, "password": "no"}
    tries = [client.post("/sign-in/", wrong).status_code for _ in range(11)]
    assert tries[:9] == [422] * 9
    assert tries[10] == 429
    right = wrong | {"password": "rough-in"}
    late = client.post("/sign-in/", right)
    assert "Too many tries" in late.text
    assert client.get("/").status_code == 302
    assert (
        client.post("/sign-in/", {"login": shop.lead.username, "password": "no"}).status_code == 422
    )
    elsewhere = client.post("/sign-in/", right, REMOTE_ADDR="192.0.2.7")
    assert elsewhere.status_code == 302


def test_the_crew_sees_the_checklist_with_what_is_to_do(client, shop, job) -> None:
    text = page(client, shop.lead, "job", job.id).text
    assert "<span>Verify</span>" in text
    found = client.get(reverse("job", args=[job.id]), {"q": "shares no hole"}).text
    assert "power and shares no hole with it." in found
    assert "rough-in items to verify on site." in text
    assert "licensed people" in text


@pytest.mark.parametrize("who", ["office", "builder"])
def test_a_job_of_which_nothing_is_recorded_has_a_page(client, shop, who) -> None:
    bare = shop.job("Lot 99")
    text = page(client, getattr(shop, who), "job", bare.id).text
    assert "Lot 99" in text
    assert "Lot 99" in client.get("/").text
    assert client.get("/api/jobs").json()["results"][0]["stage"] == "permit"


def test_a_tick_is_recorded_with_its_note(client, shop, job, area) -> None:
    item = area.items.filter(verdict=Verdict.VERIFY).first()
    client.force_login(shop.member)
    given = {"outcome": "ok", "note": "walked it"}
    answer = client.post(reverse("observe", args=[item.id]), given)
    assert answer.headers["Location"] == item_address(item)
    seen = shop.own(Observation).get()
    assert (seen.outcome, seen.note, seen.seen_by) == ("ok", "walked it", shop.member)


def test_a_tick_that_cannot_count_is_refused_in_words(client, shop, planted_bytes) -> None:
    job = shop.roughed_in(planted_bytes)
    item = job.items.filter(verdict=Verdict.NOT_TO_CODE).first()
    client.force_login(shop.lead)
    answer = client.post(reverse("observe", args=[item.id]), {"outcome": "ok"}, follow=True)
    assert "This cannot be recorded as OK" in answer.text
    assert not shop.own(Observation).exists()


def test_the_office_releases_and_the_builder_sees_it(client, shop, job, area) -> None:
    shop.look_at(area)
    shop.accept(area, reference="FH-1/R1")
    client.force_login(shop.office)
    answer = client.post(reverse("release", args=[area.id]), follow=True)
    assert "reference FH-1/R1" in answer.text
    text = page(client, shop.builder, "job", job.id).text
    assert text.count("OK to cover this area.") == 1
    assert text.count("Do not cover.") == 2


def test_releasing_an_area_on_hold_is_refused_with_the_reason(client, shop, area) -> None:
    client.force_login(shop.office)
    answer = client.post(reverse("release", args=[area.id]), follow=True)
    assert "rough-in items to verify on site" in answer.text
    assert not shop.own(CoverRelease).exists()


def test_the_office_asks_books_and_records_the_answer(client, shop, job, area) -> None:
    shop.look_at(area)
    client.force_login(shop.office)
    text = client.get(reverse("job", args=[job.id])).text
    assert "the first window is" in text
    given = {"kind": "rough_in", "areas": [str(area.id)]}
    client.post(reverse("ask", args=[job.id]), given)
    inspection = job.inspections.get()
    given = {"happening": "booked", "day": "2026-03-02", "starts": "09:00", "ends": "11:00"}
    client.post(reverse("happening", args=[inspection.id]), given)
    given = {
        "answer-bedroom": "with_deficiencies",
        "called-bedroom": "no plate\n",
        "reference": "R7",
    }
    text = client.post(reverse("answer", args=[inspection.id]), given, follow=True).text
    assert "Deficiencies (R7)" in text
    deficiency = job.deficiencies.get()
    text = client.post(reverse("corrected", args=[deficiency.id]), follow=True).text
    assert "waits for the inspector" in text
    text = client.get(reverse("record", args=[job.id])).text
    assert "deficiency corrected" in text
    assert "inspection answered" in text


@pytest.mark.parametrize(
    ("name", "given", "words"),
    [
        ("ask", {"kind": "rough_in"}, "Choose the areas"),
        ("ask", {"kind": "picnic"}, "Select a valid choice"),
        ("permit", {"number": "X", "issued_on": "yesterday"}, "Enter a valid date"),
        ("trade", {"trade": "masonry"}, "is not on this shop&#x27;s list of trades"),
    ],
)
def test_what_the_office_gets_wrong_is_said_and_not_written(
    client, shop, job, name, given, words
) -> None:
    client.force_login(shop.office)
    before = job.record.count()
    assert words in client.post(reverse(name, args=[job.id]), given, follow=True).text
    assert job.record.count() == before


def test_a_builder_sees_no_checklist_and_no_other_builders_house(client, shop, job) -> None:
    text = page(client, shop.builder, "job", job.id).text
    assert "shares no hole with it" not in text
    assert page(client, shop.other_builder, "job", job.id).status_code == 404
    assert page(client, shop.builder, "checklist-pdf", job.id).status_code == 404


@pytest.mark.parametrize("who", ["office", "lead", "member", "builder"])
def test_another_shop_gets_404_for_everything(client, shop, stranger_shop, job, area, who) -> None:
    stranger = getattr(stranger_shop, who)
    item = area.items.first()
    assert page(client, stranger, "job", job.id).status_code == 404
    assert page(client, stranger, "checklist-pdf", job.id).status_code == 404
    assert job.name not in page(client, stranger, "jobs").text
    for name, identity in (("observe", item.id), ("release", area.id), ("withdraw", area.id)):
        assert client.post(reverse(name, args=[identity])).status_code == 404
    for name in ("ask", "permit", "trade"):
        assert client.post(reverse(name, args=[job.id])).status_code == 404


def test_the_checklist_as_a_sheet_carries_what_was_seen(client, shop, job, area, tmp_path) -> None:
    item = area.items.filter(verdict=Verdict.VERIFY).first()
    item_observe(shop.lead, item=item, outcome=Outcome.OK, note="tape says 310")
    answer = page(client, shop.lead, "checklist-pdf", job.id)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(answer.content)
    text = "".join(sheet.extract_text() for sheet in PdfReader(path).pages)
    assert "tape says 310" in text
    assert shop.shop.name in text


def test_the_number_of_queries_does_not_grow_with_the_jobs(
    client, shop, house_bytes, django_assert_max_num_queries
) -> None:
    for _ in range(3):
        shop.roughed_in(house_bytes)
    client.force_login(shop.office)
    with django_assert_max_num_queries(9):
        client.get("/")


def test_times_are_those_at_the_house(client, shop, job, monkeypatch) -> None:
    Clock(datetime(2026, 6, 4, 4, 30, tzinfo=UTC)).put(monkeypatch)
    text = page(client, shop.office, "job", job.id).text
    assert "Thursday 2026-06-04 08:00" in text  # 14:00 in UTC
    assert "Requested Jun 3, 2026, 10:30\u202fPM." in text
    assert "America/Edmonton" in text


def test_healthy_needs_no_sign_in(client) -> None:
    assert client.get("/healthy").text == "ok"


@pytest.mark.parametrize("path", ["/crews/", "/plan/"])
def test_a_sheet_of_the_shop_bears_the_date_at_the_shop(client, shop, monkeypatch, path) -> None:
    class Wall(datetime):
        """What the clock of a page asks, half an hour past midnight in Greenwich."""

        @classmethod
        def now(cls, tz=None):
            return datetime(2026, 3, 3, 0, 30, tzinfo=UTC).astimezone(tz)

    monkeypatch.setattr("django.utils.timezone.datetime", Wall)
    client.force_login(shop.office)
    assert "<b>Mar 2, 2026 " in client.get(path).text


def test_the_list_of_jobs_comes_in_pages_the_open_and_latest_first(client, shop) -> None:
    jobs = [shop.job(f"Lot {number}") for number in range(62)]
    permit_apply(shop.office, job=jobs[-1], applied_on=date(2026, 1, 5))
    shop.own(Permit).update(closed_on=date(2026, 2, 5))
    client.force_login(shop.office)
    first, second = client.get("/").text, client.get("/?page=2").text
    assert "Lot 60<" in first
    assert "Lot 61<" not in first
    assert "Lot 0<" not in first
    assert "Lot 61<" in second
    found = client.get("/?find=lot 17").text
    assert "Lot 17<" in found
    assert "Lot 18<" not in found
    assert "No job matches." in client.get("/?find=nowhere").text

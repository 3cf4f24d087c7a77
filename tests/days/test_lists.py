"""The lists of the next day: drawn from the plan that was told, frozen when sent."""

import re
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from io import BytesIO
from zoneinfo import ZoneInfo

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse
from pypdf import PdfReader

from config.languages import say, spoken_to
from inspections.days.calendar import day_calendar
from inspections.days.lists import draw_lists
from inspections.days.services import day_lists_send
from inspections.models import Happening, InspectionKind
from inspections.papers.sheets.day import day_pdf
from inspections.services.inspections import inspection_ask, inspection_happen
from jobs.models import DayList
from jobs.services.crews import absence_record, drive_times_load
from tests.clock import Clock
from tests.days.crewed import MONDAY, crewed, told

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def clock(monkeypatch) -> Clock:
    """The Friday before, in the afternoon."""
    return Clock(datetime(2026, 3, 13, 20, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(shop, planted_bytes):
    crewed(shop)
    return shop.roughed_in(planted_bytes)


def test_a_list_has_house_work_items_and_what_to_bring(shop, job) -> None:
    told(shop)
    lists = draw_lists(shop.shop, MONDAY)
    assert {each.crew.name for each in lists} == {"Crew A", "Crew B"}
    work = [w for each in lists for house in each.houses for w in house.work]
    assert {w.kind for w in work} >= {"rough-in"}
    houses = [house for each in lists for house in each.houses]
    assert {house.job for house in houses} == {job.name}
    things = [say(thing) for house in houses for thing in house.bring]
    assert any(re.fullmatch(r"\d+ box(es)?: .+", thing) for thing in things)
    assert any(re.fullmatch(r"\d+ ft of NM .+", thing) for thing in things)
    corrections = [each for house in houses for each in house.corrections]
    assert corrections
    assert all(each.source for each in corrections)
    held = [say(each) for house in houses for each in house.leave_alone]
    assert any(each.endswith(": DO NOT COVER.") for each in held)


def test_there_is_no_list_before_a_plan_is_told(shop, job) -> None:
    assert draw_lists(shop.shop, MONDAY) == []


def test_a_booked_inspection_is_in_the_list_with_its_hours(shop, job) -> None:
    area = job.areas.get(code="bedroom")
    inspection = inspection_ask(
        shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[area], insist=True
    )
    starts = datetime(2026, 3, 16, 15, tzinfo=UTC)
    inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=starts,
        ends_at=starts + timedelta(hours=2),
    )
    told(shop)
    inspections = [
        say(inspection).replace("\u202f", " ")
        for each in draw_lists(shop.shop, MONDAY)
        for house in each.houses
        for inspection in house.inspections
    ]
    booked = f"rough-in inspection ({area.name}), booked 9:00 AM to 11:00 AM"
    assert booked in inspections


def test_arrivals_follow_the_drive_and_the_order_of_the_day(shop, job) -> None:
    drive_times_load(shop.office, shop=shop.shop, table=f"yard,{job.name},25")
    told(shop)
    for each in draw_lists(shop.shop, MONDAY):
        assert (each.houses[0].arrival, each.houses[0].drive_minutes) == ("08:25", 25)


def test_a_list_is_frozen_when_it_is_sent_and_amended_visibly(shop, job) -> None:
    told(shop)
    first = day_lists_send(shop.office, shop=shop.shop, day=MONDAY)
    assert {each.number for each in first} == {1}
    assert day_lists_send(shop.office, shop=shop.shop, day=MONDAY) == []
    mate = first[0].crew.places.exclude(person=first[0].crew.lead).get().person
    absence_record(shop.office, shop=shop.shop, person=mate, from_day=MONDAY, to_day=MONDAY)
    (again,) = day_lists_send(shop.office, shop=shop.shop, day=MONDAY)
    assert (again.crew, again.number) == (first[0].crew, 2)
    assert [say(change) for change in again.changes] == [f"Removed: {mate} in the crew"]
    assert DayList.objects.get(id=first[0].id).content == first[0].content


def test_one_crew_can_be_sent_its_list_alone(shop, job) -> None:
    told(shop)
    day_lists_send(shop.office, shop=shop.shop, day=MONDAY)
    crew = draw_lists(shop.shop, MONDAY)[0].crew
    assert day_lists_send(shop.office, shop=shop.shop, day=MONDAY, crews=[crew]) == []


def test_a_crew_that_has_no_work_any_more_is_sent_an_empty_list(shop, job) -> None:
    told(shop)
    day_lists_send(shop.office, shop=shop.shop, day=MONDAY)
    crew = draw_lists(shop.shop, MONDAY)[0].crew
    for place in crew.places.all():
        absence_record(
            shop.office, shop=shop.shop, person=place.person, from_day=MONDAY, to_day=MONDAY
        )
    told(shop)
    sent = {each.crew: each for each in day_lists_send(shop.office, shop=shop.shop, day=MONDAY)}
    assert sent[crew].content["houses"] == []
    assert sent[crew].number == 2


def test_the_database_refuses_to_change_what_was_sent(shop, job) -> None:
    told(shop)
    sent = day_lists_send(shop.office, shop=shop.shop, day=MONDAY)[0]
    with pytest.raises(IntegrityError, match="kept as it is"), transaction.atomic():
        DayList.objects.filter(id=sent.id).update(number=7)


def before_the_names_of_today(content):
    """A list as it was kept when what is to be corrected was to be mended."""
    for house in content["houses"]:
        house["mend"] = house.pop("corrections")
        for work in house["work"]:
            if work["kind"] == "correction":
                work |= {"kind": "mend", "task": work["task"].replace("correction/", "mend/")}
    return content


def test_a_list_that_was_sent_under_other_names_is_read_by_those_of_today(shop, job) -> None:
    told(shop)
    drawn = draw_lists(shop.shop, MONDAY)[0]
    assert drawn.houses[0].corrections
    sent = DayList.objects.create(
        shop=shop.shop,
        crew=drawn.crew,
        day=MONDAY,
        number=1,
        content=before_the_names_of_today(drawn.content()),
        sent_at=datetime(2026, 3, 13, 20, tzinfo=UTC),
    )
    assert DayList.objects.get(id=sent.id).content == drawn.content()
    again = day_lists_send(shop.office, shop=shop.shop, day=MONDAY, crews=[drawn.crew])
    assert again == []


def test_a_task_that_was_sent_under_another_name_is_read_by_that_of_today(shop, job) -> None:
    told(shop)
    drawn = draw_lists(shop.shop, MONDAY)[0]
    content = drawn.content()
    content["houses"][0]["work"][0] |= {"kind": "correction", "task": "correction/bedroom"}
    sent = DayList.objects.create(
        shop=shop.shop,
        crew=drawn.crew,
        day=MONDAY,
        number=1,
        content=before_the_names_of_today(deepcopy(content)),
        sent_at=datetime(2026, 3, 13, 20, tzinfo=UTC),
    )
    assert DayList.objects.get(id=sent.id).content == content


def test_calendar_entries_are_at_the_hours_of_the_house(shop, job) -> None:
    told(shop)
    drawn = draw_lists(shop.shop, MONDAY)[0]
    text = day_calendar(
        drawn.content(),
        ZoneInfo("America/Edmonton"),
        crew_id="c",
        number=2,
        stamp=datetime(2026, 3, 13, 22, tzinfo=UTC),
    )
    lines = text.split("\r\n")
    assert "DTSTART:20260316T140000Z" in lines
    assert "SEQUENCE:1" in lines
    assert lines.count("BEGIN:VEVENT") == len(drawn.houses)
    assert max(len(line.encode()) for line in lines) <= 75
    assert "15 Quillet Lane\\, Fernhollow" in text


def test_the_sheet_has_all_that_the_list_has(shop, job, monkeypatch) -> None:
    Clock(datetime(2026, 3, 13, 22, tzinfo=UTC)).put(monkeypatch)
    told(shop)
    content = draw_lists(shop.shop, MONDAY)[0].content()
    pdf = day_pdf(content, shop="Ostrander", sent="number 2", changes=["new: a brace"])
    assert pdf == day_pdf(content, shop="Ostrander", sent="number 2", changes=["new: a brace"])
    pages = PdfReader(BytesIO(pdf)).pages
    text = "".join("".join(page.extract_text().split()) for page in pages)
    house = content["houses"][0]
    wanted = [house["job"], house["work"][0]["what"], house["bring"][0], "number 2", "new: a brace"]
    wanted += [house["corrections"][0]["says"], house["leave_alone"][0], content["cautions"][0]]
    wanted = [say(words) for words in wanted]
    for words in wanted:
        assert "".join(words.split()) in text


def test_no_wing_in_which_the_crew_works_is_to_be_left_alone(client, shop, job) -> None:
    """A wing on hold is not to be covered; the crew works there all the same."""
    told(shop)
    drawn = draw_lists(shop.shop, MONDAY)[0]
    content = drawn.content()
    worked = {work["area"] for house in content["houses"] for work in house["work"]}
    held = [say(line) for house in content["houses"] for line in house["leave_alone"]]
    assert any(line.startswith(area) for line in held for area in worked if area)
    pages = PdfReader(BytesIO(day_pdf(content, shop="Ostrander", sent="number 1"))).pages
    client.force_login(shop.office)
    page = client.get(reverse("crew-day", args=[drawn.crew.id]) + f"?day={MONDAY}").text
    for text in ("".join(page.extract_text() for page in pages), page):
        assert "Leave alone" not in text
        assert "DO NOT COVER." in text


def test_a_list_in_short_has_a_line_a_task_in_the_order_of_the_day(shop, job) -> None:
    told(shop)
    first = say(draw_lists(shop.shop, MONDAY)[0].lines()[0])
    assert first.startswith(f"8:00\u202fAM {job.name}, {job.address}: rough-in")


def in_sentences(content):
    """A list as it was kept when it was English sentences."""
    kept = deepcopy(content)
    del kept["as_messages"]
    for house in kept["houses"]:
        for name in ("inspections", "bring", "leave_alone"):
            house[name] = [f"as it was worded then, {n}" for n, _ in enumerate(house[name])]
        for work in house["work"]:
            work["what"] = "as it was worded then"
    return kept


def test_a_list_of_before_is_not_sent_again_for_its_words_alone(shop, job) -> None:
    told(shop)
    drawn = draw_lists(shop.shop, MONDAY)[0]
    sent_at = datetime(2026, 3, 13, 20, tzinfo=UTC)
    sent = {"shop": shop.shop, "crew": drawn.crew, "day": MONDAY, "number": 1, "sent_at": sent_at}
    DayList.objects.create(**sent, content=in_sentences(drawn.content()))
    given = {"shop": shop.shop, "day": MONDAY, "crews": [drawn.crew]}
    assert day_lists_send(shop.office, **given) == []
    mate = drawn.crew.places.exclude(person=drawn.crew.lead).get().person
    absence_record(shop.office, shop=shop.shop, person=mate, from_day=MONDAY, to_day=MONDAY)
    (again,) = day_lists_send(shop.office, **given)
    assert f"Removed: {mate} in the crew" in [say(change) for change in again.changes]


def test_a_list_is_read_in_the_language_and_units_of_its_reader(shop, job) -> None:
    told(shop)
    content = draw_lists(shop.shop, MONDAY)[0].content()
    with spoken_to("en", "metric"):
        things = [say(thing) for house in content["houses"] for thing in house["bring"]]
    assert any(re.fullmatch(r"\d+ m of NM .+", thing) for thing in things)

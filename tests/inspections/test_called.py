"""What inspectors called, counted by reason, and what inspections ended in."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from config.languages import say
from inspections.models import Answer, Happening, InspectionKind
from inspections.overview.written_up import OTHER, inspections_counted, reasons_called
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct
from inspections.services.inspections import inspection_happen
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
BEGIN = datetime(2026, 3, 2, 9, tzinfo=ZoneInfo("America/Edmonton"))


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(BEGIN).put(monkeypatch)


@pytest.fixture
def east(shop, clock):
    job = shop.roughed_in(HOUSES["clean"])
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


def inspection(shop, area, answer: Answer, *called: Called) -> None:
    booked = shop.booked(area, insist=True)
    inspection_answer(
        shop.office, inspection=booked, answers={area: answer}, reference="R1", called=called
    )


def test_reasons_are_counted_by_rule_then_section(shop, east, clock, stranger_shop) -> None:
    inspection(
        shop,
        east,
        Answer.NOT_ACCEPTED,
        Called(east, "no room", rule="box-fill"),
        Called(east, "no plate", section="12-516"),
        Called(east, "untidy"),
    )
    for deficiency in east.deficiencies.filter(rule="box-fill"):
        clock.now = BEGIN + timedelta(days=3)
        deficiency_correct(shop.lead, deficiency=deficiency)
    inspection(shop, east, Answer.NOT_ACCEPTED, Called(east, "no room again", rule="box-fill"))
    found = {each.key: each for each in reasons_called(shop.shop)}
    assert list(found) == ["box-fill", "12-516", OTHER]
    assert [say(each.reason, "en") for each in found.values()] == [
        "Box fill",
        "12-516",
        "no rule or section named",
    ]
    fill = found["box-fill"]
    assert (fill.called, len(fill.job_ids), fill.open) == (2, 1, 2)
    assert fill.mean_days_to_correct == pytest.approx(3)
    assert found[OTHER].mean_days_to_correct is None
    assert reasons_called(stranger_shop.shop) == []


def test_inspections_are_counted_by_what_they_ended_in(shop, east, stranger_shop) -> None:
    inspection(shop, east, Answer.NOT_ACCEPTED)
    inspection(shop, east, Answer.ACCEPTED)
    missed = shop.booked(east, insist=True)
    inspection_happen(shop.office, inspection=missed, happening=Happening.NO_ACCESS)
    final = shop.booked(east, kind=InspectionKind.FINAL)
    inspection_answer(shop.office, inspection=final, answer=Answer.NOT_ACCEPTED, reference="F1")
    found = {each.kind: each for each in inspections_counted(shop.shop)}
    rough_in = found[InspectionKind.ROUGH_IN]
    assert (rough_in.held, rough_in.accepted, rough_in.no_access, rough_in.nobody_came) == (
        2,
        1,
        1,
        0,
    )
    assert rough_in.accepted_share == 0.5
    final_count = found[InspectionKind.FINAL]
    assert (final_count.held, final_count.accepted) == (1, 0)
    assert inspections_counted(stranger_shop.shop) == []


def test_the_office_reads_it_and_nobody_else(client, shop, east) -> None:
    inspection(shop, east, Answer.NOT_ACCEPTED, Called(east, "no room", rule="box-fill"))
    client.force_login(shop.office)
    text = client.get("/figures/").text
    assert "Box fill" in text
    assert "0 of 1" in text
    for person in (shop.lead, shop.builder):
        client.force_login(person)
        assert client.get("/figures/").status_code == 404

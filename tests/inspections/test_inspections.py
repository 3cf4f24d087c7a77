"""Inspections, answers and deficiencies as the office records them, and what is refused."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import say
from inspections.models import (
    Acceptance,
    Answer,
    AreaStanding,
    Deficiency,
    Happening,
    InspectionKind,
    Outcome,
)
from inspections.overview.inspections import earliest_inspection_of, inspection_state
from inspections.selectors import deficiencies_of
from inspections.services.acceptances import acceptance_elapse, acceptance_waive
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import Held, cover_release_issue
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import ItemsOpen, inspection_ask, inspection_happen
from inspections.services.observations import item_observe
from inspections.services.permits import permit_close, permit_extend
from inspections.services.trades import trade_report
from jobs.access import NotAllowed
from jobs.services.authorities import authority_add, authority_templates
from tests.clock import Clock
from tests.clocks import house_day
from tests.inspections.houses import with_length
from tests.inspections.windows import Window
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def area(shop, job):
    found = job.areas.get(code="bedroom")
    shop.look_at(found)
    return found


def reasons(area) -> list[str]:
    return [hold["reason"] for hold in AreaStanding.objects.get(area=area).holds]


def happen(shop, inspection, happening, hours=0):
    window = Window()
    if happening in (Happening.BOOKED, Happening.MOVED):
        starts = timezone.now() + timedelta(hours=hours)
        window = Window(starts_at=starts, ends_at=starts + timedelta(hours=2))
    return inspection_happen(shop.office, inspection=inspection, happening=happening, **window)


def answered(shop, inspection, answer, called=(), lifted=(), reference="R1"):
    (area,) = inspection.areas.all()
    return inspection_answer(
        shop.office,
        inspection=inspection,
        answers={area: answer},
        reference=reference,
        called=[Called(area, what) for what in called],
        lifted=lifted,
    )


def test_acceptance_lifts_the_last_hold_and_only_for_its_area(shop, job, area) -> None:
    assert reasons(area) == ["acceptance"]
    shop.accept(area)
    assert reasons(area) == []
    assert "acceptance" in reasons(job.areas.get(code="garage"))


def test_not_accepted_holds_and_withdraws_what_was_released(shop, area) -> None:
    cover_release = shop.release(area)
    shop.accept(area, Answer.NOT_ACCEPTED, "R2", called=("cables not stapled",))
    cover_release.refresh_from_db()
    assert not cover_release.live
    assert reasons(area) == ["deficiency", "acceptance"]


def test_a_deficiency_holds_until_the_inspector_accepts_what_was_corrected(shop, area) -> None:
    shop.accept(area, Answer.WITH_DEFICIENCIES, called=("no plate at the notch",))
    deficiency = shop.own(Deficiency).get()
    with pytest.raises(Held, match="1 deficiency to correct"):
        cover_release_issue(shop.office, area=area)
    deficiency_correct(shop.member, deficiency=deficiency)
    with pytest.raises(Held, match="waits for the inspector"):
        cover_release_issue(shop.office, area=area)
    inspection = shop.booked(area)
    answered(shop, inspection, Answer.ACCEPTED, lifted=[deficiency], reference="R2")
    assert cover_release_issue(shop.office, area=area).reference == "R2"


def test_a_change_after_acceptance_holds_that_area_alone(shop, job, area, house_bytes) -> None:
    garage = job.areas.get(code="garage")
    cover_releases = [shop.release(area), shop.release(garage, "R2")]
    house_record(shop.lead, job=job, house=with_length(house_bytes, "D7", 99_000))
    assert reasons(area) == ["open", "changed"]
    assert reasons(garage) == []
    for cover_release in cover_releases:
        cover_release.refresh_from_db()
    assert [cover_release.live for cover_release in cover_releases] == [False, True]
    shop.look_at(area)
    shop.accept(area, reference="R3")
    assert reasons(area) == []


def test_an_inspection_asked_for_while_items_are_open_must_be_insisted_on(shop, job) -> None:
    garage = job.areas.get(code="garage")
    with pytest.raises(ItemsOpen, match=r"Garage: \d+ rough-in items to verify"):
        inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[garage])
    assert shop.booked(garage, insist=True).insisted
    assert not shop.booked(job.areas.get(code="garage"), kind=InspectionKind.SERVICE).insisted


def test_an_authority_that_takes_no_parts_is_asked_for_all(shop, job, area) -> None:
    job.authority.takes_parts = False
    job.authority.save()
    with pytest.raises(ValidationError, match="does not inspect a rough-in in parts"):
        inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[area])


@pytest.mark.parametrize(
    ("before", "happening"),
    [
        ([], Happening.MOVED),
        ([], Happening.NO_ACCESS),
        ([Happening.BOOKED], Happening.BOOKED),
        ([Happening.CANCELLED], Happening.BOOKED),
        ([Happening.BOOKED, Happening.CANCELLED], Happening.MOVED),
    ],
)
def test_what_cannot_follow_is_refused(shop, area, before, happening) -> None:
    inspection = inspection_ask(
        shop.office, job=area.job, kind=InspectionKind.ROUGH_IN, areas=[area]
    )
    for each in before:
        happen(shop, inspection, each)
    with pytest.raises(ValidationError, match=r"not |is over"):
        happen(shop, inspection, happening)
    assert inspection.events.count() == len(before)


def test_an_inspection_may_be_moved_after_no_access_and_then_held(shop, area) -> None:
    inspection = inspection_ask(
        shop.office, job=area.job, kind=InspectionKind.ROUGH_IN, areas=[area]
    )
    for each in (Happening.BOOKED, Happening.NO_ACCESS, Happening.MOVED):
        happen(shop, inspection, each, hours=-3)
    answered(shop, inspection, Answer.ACCEPTED)
    assert say(inspection_state(inspection), "en") == "held"
    with pytest.raises(ValidationError, match="This inspection is over"):
        answered(shop, inspection, Answer.ACCEPTED, reference="R2")


def test_answers_that_cannot_be_are_refused_and_nothing_is_half_written(shop, job, area) -> None:
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[area])
    with pytest.raises(ValidationError, match="not booked yet"):
        answered(shop, inspection, Answer.ACCEPTED)
    happen(shop, inspection, Happening.BOOKED, hours=5)
    with pytest.raises(ValidationError, match="window opens"):
        answered(shop, inspection, Answer.ACCEPTED)
    happen(shop, inspection, Happening.MOVED, hours=-5)
    garage = job.areas.get(code="garage")
    refused: list[tuple[dict[str, Any], str]] = [
        ({"answers": {garage: Answer.ACCEPTED}}, "was not for Garage"),
        ({"answers": {}}, "a result for each area"),
        ({"answers": {area: Answer.WITH_DEFICIENCIES}}, "what the deficiencies are"),
        ({"answers": {area: Answer.ACCEPTED}, "reference": " "}, "authority's reference"),
        (
            {"answers": {area: Answer.NOT_ACCEPTED}, "called": [Called(area, "")]},
            "cannot be blank",
        ),
    ]
    entries = job.record.count()
    for given, words in refused:
        with pytest.raises(ValidationError, match=words):
            inspection_answer(shop.office, inspection=inspection, **({"reference": "R1"} | given))
    assert inspection.events.count() == 2
    assert not shop.own(Acceptance).exists()
    assert not shop.own(Deficiency).exists()
    assert job.record.count() == entries


def test_a_reference_belongs_to_one_job(shop, area, house_bytes) -> None:
    shop.accept(area, reference="R1")
    second = shop.job("Lot 16")
    house_record(shop.lead, job=second, house=house_bytes)
    other = second.areas.get(code="bedroom")
    shop.look_at(other)
    with pytest.raises(ValidationError, match="R1 is already used on Lot 15"):
        shop.accept(other, reference="R1")


def test_another_shops_area_is_nobodys_to_release(shop, stranger_shop, area) -> None:
    shop.accept(area)
    with pytest.raises(NotAllowed):
        cover_release_issue(stranger_shop.office, area=area)
    with pytest.raises(ValidationError, match="areas of its own job"):
        inspection_ask(
            stranger_shop.office,
            job=stranger_shop.job(),
            kind=InspectionKind.ROUGH_IN,
            areas=[area],
        )


def test_a_deficiency_that_was_not_corrected_cannot_be_lifted(shop, area) -> None:
    shop.accept(area, Answer.NOT_ACCEPTED, called=("no plate",))
    inspection = shop.booked(area)
    with pytest.raises(ValidationError, match="not recorded as corrected"):
        answered(
            shop, inspection, Answer.ACCEPTED, lifted=list(shop.own(Deficiency)), reference="R2"
        )


def test_a_deficiency_that_recurs_is_recognised_by_its_rule(shop, job, area, house_bytes) -> None:
    for number in range(2):
        inspection = shop.booked(area)
        called = [Called(area, "no plate", rule="edge-distance"), Called(area, "dust")]
        inspection_answer(
            shop.office,
            inspection=inspection,
            answers={area: Answer.NOT_ACCEPTED},
            reference=f"R{number}",
            called=called,
        )
    found = [(each.rule, before) for each, before in deficiencies_of(job)]
    assert found == [("edge-distance", 0), ("", 0), ("edge-distance", 1), ("", 0)]


def test_trades_that_the_shop_asks_for_hold_until_they_report(shop, job, area) -> None:
    shop.accept(area)
    shop.shop.trades = ["plumbing", "ventilation"]
    shop.shop.save()
    with pytest.raises(Held, match="Rough-in by plumbing"):
        cover_release_issue(shop.office, area=area)
    for trade in shop.shop.trades:
        trade_report(shop.builder, job=job, trade=trade)
    cover_release = cover_release_issue(shop.office, area=area)
    trade_report(shop.office, job=job, trade="plumbing", done=False)
    cover_release.refresh_from_db()
    assert "plumbing" in cover_release.withdrawn_because
    with pytest.raises(ValidationError, match="“masonry” is not on this shop's list of trades"):
        trade_report(shop.office, job=job, trade="masonry")


def test_a_waiver_is_a_ground_like_an_inspection(shop, area) -> None:
    acceptance_waive(shop.office, area=area, reference="W1")
    assert cover_release_issue(shop.office, area=area).acceptance.basis == "waiver"


def test_time_that_passed_is_a_ground_only_where_the_shop_turned_it_on(
    shop, area, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 6, 10, 14, 0, tzinfo=UTC)).put(monkeypatch)
    inspection = shop.booked(area)
    given = {"area": area, "inspection": inspection, "reference": "E1", "declared_by": "T. Vale"}
    with pytest.raises(ValidationError, match="does not allow covering"):
        acceptance_elapse(shop.office, **given)
    area.job.authority.elapsed_hours = 48
    with pytest.raises(ValidationError, match="First record that no inspector came"):
        acceptance_elapse(shop.office, **given)
    clock.now += timedelta(hours=3)
    happen(shop, inspection, Happening.NOBODY_CAME)
    with pytest.raises(ValidationError, match=r"The waiting time ends .*\(America/Edmonton\)"):
        acceptance_elapse(shop.office, **given)
    clock.now += timedelta(hours=48)
    with pytest.raises(ValidationError, match="licence holder"):
        acceptance_elapse(shop.office, **(given | {"declared_by": " "}))
    assert acceptance_elapse(shop.office, **given).declared_by == "T. Vale"
    assert cover_release_issue(shop.office, area=area).acceptance.basis == "elapsed"


def test_programs_record_an_acceptance_without_an_inspection(
    client, shop, area, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 6, 10, 14, 0, tzinfo=UTC)).put(monkeypatch)
    inspection = shop.booked(area)
    address = f"/api/areas/{area.id}/acceptances"

    def record(**given):
        answer = client.post(address, given, content_type="application/json")
        return answer.status_code, answer.json()

    client.force_login(shop.lead)
    assert record(basis="waiver", reference="W-1")[0] == 403
    client.force_login(shop.office)
    missing = record(basis="elapsed", reference="E-1")[1]["errors"]
    assert [each["pointer"] for each in missing] == ["#/declared_by", "#/inspection"]
    code, strange = record(basis="waiver", reference="W-1", declared_by="T. Vale")
    assert (code, [each["pointer"] for each in strange["errors"]]) == (400, ["#/declared_by"])
    assert record(basis="inspection", reference="V-1")[0] == 400
    shop.authority.elapsed_hours = 48
    shop.authority.save()
    given = {"reference": "E-1", "inspection": str(inspection.id), "declared_by": "T. Vale"}
    assert "no inspector came" in record(basis="elapsed", **given)[1]["detail"]
    clock.now += timedelta(hours=3)
    happen(shop, inspection, Happening.NOBODY_CAME)
    clock.now += timedelta(hours=49)
    client.force_login(shop.office)
    assert record(basis="elapsed", **given)[0] == 201
    code, made = record(basis="waiver", reference="W-1")
    assert (code, made["basis"], made["reference"]) == (201, "waiver", "W-1")
    assert [each.basis for each in area.acceptances.all()] == ["elapsed", "waiver"]


@pytest.mark.every_clock
def test_a_permit_is_extended_and_closed_in_order(shop, job, area) -> None:
    today = house_day()
    permit = permit_extend(shop.office, permit=job.permit, expires_on=today)
    with pytest.raises(ValidationError, match="valid until"):
        permit_extend(shop.office, permit=permit, expires_on=today - timedelta(days=1))
    with pytest.raises(ValidationError, match="Enter a closing date on or after"):
        permit_close(
            shop.office, permit=permit, closed_on=sure(permit.issued_on) - timedelta(days=1)
        )
    entry = job.record.filter(action="permit extended").get()
    assert entry.before == {"expires_on": None}


def test_an_idle_permit_ends_and_a_held_inspection_begins_its_time_anew(
    shop, area, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 1, 12, 18, 0, tzinfo=UTC)).put(monkeypatch)
    area.job.authority.idle_days = 180
    area.job.authority.save()
    shop.accept(area)
    clock.now = datetime(2026, 7, 11, 18, 0, tzinfo=UTC)
    cover_release = cover_release_issue(shop.office, area=area)
    clock.now = datetime(2026, 7, 12, 18, 0, tzinfo=UTC)
    item_observe(shop.lead, item=area.items.first(), outcome=Outcome.OK)
    cover_release.refresh_from_db()
    assert "expired on Jul 11, 2026" in cover_release.withdrawn_because


def test_the_earliest_inspection_of_a_job_is_in_its_own_zone_by_its_authority(shop, job) -> None:
    job.authority = authority_add(
        shop=shop.shop, name="Town office", template="prairie-town-two-days"
    )
    found = earliest_inspection_of(job, datetime(2026, 6, 4, 16, 0, tzinfo=UTC))
    assert found.starts.isoformat() == "2026-06-08T08:00:00-06:00"


def test_every_template_makes_an_authority_and_names_its_source(shop) -> None:
    for name, template in authority_templates().items():
        made = authority_add(shop=shop.shop, name=name, template=name)
        assert made.source == template["source"]
        assert made.elapsed_hours is None


@pytest.mark.parametrize(
    ("rules", "words"),
    [
        ({"inspections_on": []}, "cannot be blank"),
        ({"works_on": [9]}, "at least one weekday"),
        ({"closures": {"soon": "x"}}, "“soon” is not a date"),
        (
            {"from_hour": "16:00", "to_hour": "08:00"},
            "The hours of inspections end before they begin.",
        ),
    ],
)
def test_an_authority_with_a_fault_is_refused(shop, rules, words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        authority_add(shop=shop.shop, name="x", **rules)

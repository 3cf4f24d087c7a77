"""What people record, and what follows in the same transaction."""

import json
from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext

from inspections.checker.finding import Verdict
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import RulebookFault
from inspections.models import AreaStanding, CoverRelease, HouseRevision, Item, Observation, Outcome
from inspections.selectors import checklist
from inspections.services.cover_releases import (
    Held,
    NotReleased,
    cover_release_issue,
    cover_release_withdraw,
)
from inspections.services.houses import house_record
from inspections.services.observations import NothingToPass, item_observe, items_observe
from inspections.services.permits import permit_apply, permit_issue
from jobs.access import NotAllowed

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def area(job):
    return job.areas.get(code="bedroom")


def changed(house_bytes: bytes, box: str, **change) -> bytes:
    house = json.loads(house_bytes)
    next(b for b in house["boxes"] if b["id"] == box).update(change)
    return json.dumps(house).encode()


def standing(area) -> AreaStanding:
    return AreaStanding.objects.get(area=area)


def test_a_recorded_house_gives_areas_items_and_holds(job, area) -> None:
    assert {a.code for a in job.areas.all()} == {"living", "bedroom", "garage"}
    assert job.items.count() == len(checklist(job)) > 100
    assert [hold["reason"] for hold in standing(area).holds] == ["open", "open", "acceptance"]


def test_releasing_is_refused_with_the_holds_while_an_item_is_open(shop, area) -> None:
    with pytest.raises(Held, match="to verify on site"):
        cover_release_issue(shop.office, area=area)
    assert not shop.own(CoverRelease).exists()


def test_an_area_is_released_once_all_is_seen_and_a_second_asking_changes_nothing(
    shop, area
) -> None:
    first = shop.release(area)
    again = cover_release_issue(shop.office, area=area)
    assert again.id == first.id
    assert standing(area).released


def test_one_area_may_be_clear_while_another_holds(shop, job, area) -> None:
    shop.release(area)
    assert {s.area.code: s.released for s in shop.own(AreaStanding).select_related("area")} == {
        "bedroom": True,
        "living": False,
        "garage": False,
    }


def test_a_fail_withdraws_the_cover_release_in_the_same_transaction(shop, area) -> None:
    cover_release = shop.release(area)
    item = area.items.filter(verdict=Verdict.OK).first()
    item_observe(shop.lead, item=item, outcome=Outcome.FIX, note="stud split")
    cover_release.refresh_from_db()
    assert not cover_release.live
    assert "to fix" in cover_release.withdrawn_because
    assert not standing(area).released


def test_a_tick_passes_neither_what_is_short_nor_what_is_unknown(shop, planted_bytes) -> None:
    job = shop.roughed_in(planted_bytes)
    for verdict in (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED):
        item = job.items.filter(verdict=verdict).first()
        with pytest.raises(NothingToPass, match="cannot be recorded as OK"):
            item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert not shop.own(Observation).exists()


def test_a_walk_is_recorded_whole_or_not_at_all(shop, planted_bytes) -> None:
    job = shop.roughed_in(planted_bytes)
    looks = list(job.items.filter(verdict=Verdict.VERIFY))
    short = job.items.filter(verdict=Verdict.NOT_TO_CODE).first()
    with pytest.raises(NothingToPass, match="cannot be recorded as OK"):
        items_observe(shop.lead, items=[*looks, short], outcome=Outcome.OK)
    assert not shop.own(Observation).exists()
    seen = items_observe(shop.lead, items=looks, outcome=Outcome.OK, note="walked it")
    assert {one.item_id for one in seen} == {item.id for item in looks}
    assert {one.note for one in seen} == {"walked it"}
    assert items_observe(shop.lead, items=[], outcome=Outcome.OK) == []
    with pytest.raises(NotAllowed):
        items_observe(shop.builder, items=looks, outcome=Outcome.OK)


def test_a_changed_fact_opens_exactly_the_items_that_rest_on_it(
    shop, job, area, house_bytes
) -> None:
    cover_release = shop.release(area)
    before = dict(job.items.values_list("id", "fingerprint"))
    house = json.loads(house_bytes)
    cable = next(c for c in house["cables"] if c["id"] == "D7")
    cable["length_mm"] += 4000
    house_record(shop.lead, job=job, house=json.dumps(house).encode(), why="data run moved")
    after = dict(job.items.values_list("id", "fingerprint"))
    moved = [Item.objects.get(id=i) for i in after if after[i] != before.get(i)]
    assert sorted(str(item) for item in moved) == [
        "cable-damage:room:bed3",
        "communications-separation:D7",
        "communications-supports:room:bed3",
    ]
    (line,) = [line for line in checklist(job, area) if line.item == moved[0]]
    assert line.standing == "open"
    assert line.changed_since
    cover_release.refresh_from_db()
    assert not cover_release.live


def test_an_item_whose_subject_is_gone_is_retired_and_comes_back_as_itself(
    shop, job, house_bytes
) -> None:
    item = job.items.get(rule="box-fill", subject="R41")
    house = json.loads(house_bytes)
    house["boxes"] = [box for box in house["boxes"] if box["id"] != "R41"]
    house["cables"] = [c for c in house["cables"] if "R41" not in c["ends"]]
    house_record(shop.lead, job=job, house=json.dumps(house).encode())
    item.refresh_from_db()
    assert not item.current
    with pytest.raises(NothingToPass, match="no longer part"):
        item_observe(shop.lead, item=item, outcome=Outcome.OK)
    house_record(shop.lead, job=job, house=house_bytes)
    item.refresh_from_db()
    assert item.current
    assert job.revisions.count() == 3


def test_a_faulty_house_leaves_nothing_behind(shop, job, house_bytes) -> None:
    with pytest.raises(HouseFaults, match=r"boxes\[\d+\]\.volume_ml: must be more than 0"):
        house_record(shop.lead, job=job, house=changed(house_bytes, "R14", volume_ml=-1))
    assert shop.own(HouseRevision).count() == 1


def test_a_house_without_a_rulebook_says_so(shop, house_bytes) -> None:
    house = json.loads(house_bytes) | {"rulebook": None}
    with pytest.raises(RulebookFault, match="rulebook: is missing"):
        shop.roughed_in(json.dumps(house).encode())


def test_an_unissued_permit_holds_every_area_until_it_is_issued(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes, issued=False)
    area = job.areas.get(code="garage")
    shop.look_at(area)
    assert [hold["reason"] for hold in standing(area).holds] == ["permit", "acceptance"]
    permit_issue(shop.office, permit=job.permit, number="FH-9", issued_on=date(2026, 2, 1))
    assert [hold["reason"] for hold in standing(area).holds] == ["acceptance"]


def test_a_permit_needs_a_number_and_dates_in_order(shop) -> None:
    job = shop.job()
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 2, 1))
    for number, day in (("", date(2026, 2, 2)), ("FH-9", date(2026, 1, 31))):
        with pytest.raises(ValidationError), transaction.atomic():
            permit_issue(shop.office, permit=permit, number=number, issued_on=day)
        permit.refresh_from_db()
    assert permit.issued_on is None


def test_a_cover_release_is_withdrawn_by_hand_with_a_reason(shop, area) -> None:
    shop.release(area)
    with pytest.raises(ValidationError):
        cover_release_withdraw(shop.office, area=area, because="")
    withdrawn = cover_release_withdraw(shop.office, area=area, because="inspector called back")
    assert withdrawn.withdrawn_by == shop.office
    with pytest.raises(NotReleased):
        cover_release_withdraw(shop.office, area=area, because="again")


@pytest.mark.parametrize("who", ["lead", "member", "builder"])
def test_only_the_office_releases(shop, area, who) -> None:
    shop.look_at(area)
    with pytest.raises(NotAllowed, match="Only the office of"):
        cover_release_issue(getattr(shop, who), area=area)


def test_a_builder_ticks_nothing(shop, area) -> None:
    with pytest.raises(NotAllowed):
        item_observe(shop.builder, item=area.items.first(), outcome=Outcome.OK)


def test_a_later_observation_supersedes_and_both_stay(shop, area) -> None:
    item = area.items.filter(verdict=Verdict.VERIFY).first()
    for outcome in (Outcome.FIX, Outcome.OK):
        item_observe(shop.lead, item=item, outcome=outcome)
    assert [seen.outcome for seen in item.observations.all()] == ["fix", "ok"]
    (line,) = [line for line in checklist(item.job, area) if line.item == item]
    assert line.standing == "ok"


def test_the_database_itself_refuses_a_clear_area_with_a_hold(area) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        AreaStanding.objects.filter(area=area).update(released=True)


def test_the_database_itself_refuses_a_second_live_cover_release(shop, area) -> None:
    first = shop.release(area)
    with pytest.raises(IntegrityError), transaction.atomic():
        CoverRelease.objects.create(
            area=area,
            acceptance=first.acceptance,
            reference="R2",
            issued_by=shop.office,
            issued_at=first.issued_at + timedelta(days=1),
        )
    assert connection.in_atomic_block


def test_recording_the_same_house_again_writes_no_item(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    with CaptureQueriesContext(connection) as queries:
        house_record(shop.lead, job=job, house=house_bytes)
    written = [q["sql"] for q in queries if q["sql"].startswith(("UPDATE", "INSERT"))]
    items = [sql for sql in written if 'inspections_item"' in sql and "current" in sql]
    assert all(sql.startswith("UPDATE") and "WHEN" not in sql for sql in items), items
    assert job.items.filter(current=False).count() == 0


def test_an_item_that_comes_back_is_current_again(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    item = job.items.first()
    job.items.filter(id=item.id).update(current=False, verdict="not_to_code")
    house_record(shop.lead, job=job, house=house_bytes)
    fresh = job.items.get(id=item.id)
    assert (fresh.current, fresh.verdict) == (True, item.verdict)

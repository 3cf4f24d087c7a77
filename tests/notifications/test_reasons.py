"""Each reason: who is told, from which moment, until when, and what makes it moot."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from config.languages import say
from inspections.conclusions.job_facts import JobRows
from inspections.models import Answer, Happening, InspectionKind, Outcome
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import (
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.observations import item_observe
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.settling import job_settle
from inspections.standing.stages import Milestone
from jobs.models import Authority
from notifications.facts import jobs_facts
from notifications.reason import Due, reasons
from notifications.reasons.last_day_to_ask import last_day_before
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.inspections.windows import Window

pytestmark = pytest.mark.django_db

EDMONTON = ZoneInfo("America/Edmonton")
MONDAY = datetime(2026, 3, 2, 10, 0, tzinfo=EDMONTON)
"""The week before the clocks go forward, on 8 March."""


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(MONDAY.astimezone(UTC)).put(monkeypatch)


@pytest.fixture
def job(clock, shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def area(job):
    return job.areas.get(code="east")


def drawn(job, name: str) -> list[Due]:
    """What that reason gives for the job now, ahead or come."""
    job_settle(job.id)
    (facts,) = jobs_facts(JobRows.of([job.id]))
    return list(reasons()[name].due(facts))


def one(job, name: str) -> Due:
    """The one thing that the reason gives, whoever is told."""
    found = {each.occasion: each for each in drawn(job, name)}
    assert len(found) == 1, found
    return next(iter(found.values()))


def who(job, name: str) -> list[str]:
    return sorted({each.person.first_name for each in drawn(job, name)})


def at(day: str, clock: str = "07:00") -> datetime:
    """That time at the house."""
    return datetime.fromisoformat(f"{day}T{clock}").replace(tzinfo=EDMONTON)


def inspection(shop, area, kind=InspectionKind.ROUGH_IN, day: str = "2026-03-10"):
    asked = inspection_ask(shop.office, job=area.job, kind=kind, areas=[area])
    happen(shop, asked, Happening.BOOKED, day)
    return asked


def happen(shop, inspection, happening, day: str = "", note: str = "") -> None:
    window: Window = {"starts_at": at(day, "09:00"), "ends_at": at(day, "11:00")} if day else {}
    inspection_happen(shop.office, inspection=inspection, happening=happening, note=note, **window)


def answered(shop, clock, area, answer=Answer.ACCEPTED, **given):
    held = inspection(shop, area)
    clock.now = at("2026-03-10", "10:00").astimezone(UTC)
    inspection_answer(shop.office, inspection=held, answers={area: answer}, reference="R7", **given)
    return held


def called(shop, clock, area, due_on=date(2026, 3, 20)):
    """A deficiency that the inspector called there."""
    what = Called(area, "staple within 200 mm", where="at W-3", due_on=due_on)
    answered(shop, clock, area, Answer.WITH_DEFICIENCIES, called=[what])
    return area.deficiencies.get()


def test_a_permit_that_is_not_issued_is_told_after_the_days_the_shop_waits(clock, shop) -> None:
    job = shop.job()
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 3, 1))
    due = one(job, "permit not issued")
    assert due.at == at("2026-03-15")  # seven in the morning, on the other side of the change
    assert due.at.astimezone(UTC).hour == 13
    assert who(job, "permit not issued") == ["Office"]
    permit_issue(shop.office, permit=permit, number="P", issued_on=date(2026, 3, 2))
    assert drawn(job, "permit not issued") == []


def test_a_permit_that_ends_is_told_thrice_and_the_latest_alone_stands(clock, shop, job) -> None:
    permit_issue(
        shop.office,
        permit=job.permit,
        number="FH-1",
        issued_on=date(2026, 1, 12),
        expires_on=date(2026, 5, 1),
    )
    due = drawn(job, "permit expiring")
    assert [each.at for each in due] == [at("2026-04-01"), at("2026-04-17"), at("2026-04-24")]
    for moment, count in ((at("2026-04-25"), 1), (at("2026-04-01", "06:59"), 0)):
        assert sum(each.stands(moment) for each in due) == count
    assert due[-1].until == at("2026-05-02", "00:00")
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.FINAL,
        reference="C",
        reached_on=date(2026, 3, 2),
    )
    assert drawn(job, "permit expiring") == []


def test_work_without_a_permit_is_told_until_it_is_issued(clock, shop) -> None:
    job = shop.job()
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 3, 1))
    assert drawn(job, "work without permit") == []
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    assert who(job, "work without permit") == ["Lead", "Office"]
    permit_issue(shop.office, permit=permit, number="P", issued_on=date(2026, 3, 2))
    assert drawn(job, "work without permit") == []


def test_a_ready_area_is_told_until_its_inspection_is_asked_for(clock, shop, job, area) -> None:
    assert drawn(job, "rough-in ready") == []
    shop.look_at(area)
    due = one(job, "rough-in ready")
    assert who(job, "rough-in ready") == ["Office"]
    assert "East" in say(due.text)
    inspection(shop, area)
    assert drawn(job, "rough-in ready") == []


def test_what_was_done_again_is_another_occasion(clock, shop, job, area) -> None:
    shop.look_at(area)
    first = one(job, "rough-in ready").occasion
    shop.look_at(area, "fix")
    assert drawn(job, "rough-in ready") == []
    shop.look_at(area)
    assert one(job, "rough-in ready").occasion != first


def test_what_is_to_be_inspected_again_after_a_withdrawal_is_told_again(
    clock, shop, job, area
) -> None:
    shop.look_at(area)
    first = one(job, "rough-in ready").occasion
    answered(shop, clock, area)
    cover_release_issue(shop.office, area=area)
    clock.now += timedelta(hours=1)
    withdrawn = cover_release_withdraw(shop.office, area=area, because="a stud was drilled")
    assert drawn(job, "rough-in ready") == []
    clock.now += timedelta(hours=1)
    withdrawal_answer(shop.office, cover_release=withdrawn, says="plated", inspect_again=True)
    again = one(job, "rough-in ready")
    assert again.occasion != first
    assert clock.now - again.at < timedelta(seconds=1)


@pytest.mark.parametrize(
    ("days", "cut_off", "board", "last"),
    [
        # Drywall on Wednesday 18 March 2026: the inspection must be on Tuesday 17 or before.
        (1, None, date(2026, 3, 18), date(2026, 3, 16)),
        (2, None, date(2026, 3, 18), date(2026, 3, 13)),
        # Drywall on Monday: the inspection is on Friday, asked for on Thursday.
        (1, None, date(2026, 3, 16), date(2026, 3, 12)),
        # Good Friday, 3 April 2026, is a holiday in Alberta: Thursday is the last inspection.
        (1, None, date(2026, 4, 6), date(2026, 4, 1)),
    ],
)
def test_the_last_day_to_ask(shop, days, cut_off, board, last) -> None:
    authority = Authority(
        shop=shop.shop, name="A", notice_days=days, cut_off=cut_off, country="CA", region="AB"
    )
    assert last_day_before(authority.inspection_rules(EDMONTON), board) == last


def test_the_last_day_to_ask_is_told_that_morning_and_moot_once_asked(
    clock, shop, job, area
) -> None:
    job.drywall_on = date(2026, 3, 18)
    job.save()
    due = one(job, "last day to ask")
    assert (due.at, due.until) == (at("2026-03-16"), at("2026-03-17", "00:00"))
    assert who(job, "last day to ask") == ["Office"]
    for each in job.areas.all():
        shop.look_at(each)
        inspection(shop, each)
    assert drawn(job, "last day to ask") == []


def test_a_booked_inspection_is_told_at_once_and_on_its_eve(clock, shop, job, area) -> None:
    shop.look_at(area)
    inspection(shop, area, day="2026-03-09")
    booked, eve = one(job, "inspection booked"), one(job, "inspection tomorrow")
    assert booked.inspection_id == eve.inspection_id is not None
    assert (eve.at, eve.until) == (at("2026-03-08", "16:00"), at("2026-03-09", "09:00"))
    assert who(job, "inspection tomorrow") == ["Builder", "Lead", "Office"]
    assert "Lead Tester" in say(eve.text)
    assert "Mon, Mar 9, 9:00\u202fAM to 11:00\u202fAM" in say(eve.text)


def test_an_inspection_booked_within_the_day_is_told_of_at_once(clock, shop, job, area) -> None:
    shop.look_at(area)
    clock.now = at("2026-03-04", "17:30").astimezone(UTC)
    inspection(shop, area, day="2026-03-05")
    assert one(job, "inspection tomorrow").at == area.inspections.get().events.get().recorded_at


def test_a_moved_inspection_makes_the_old_window_moot(clock, shop, job, area) -> None:
    shop.look_at(area)
    asked = inspection(shop, area)
    first = one(job, "inspection tomorrow")
    happen(shop, asked, Happening.MOVED, "2026-03-12", note="the van broke down")
    moved = one(job, "inspection rescheduled")
    assert not moved.urgent
    assert "Thu, Mar 12, 9:00\u202fAM to 11:00\u202fAM" in say(moved.text)
    assert "the van broke down" in say(moved.text)
    assert one(job, "inspection tomorrow").occasion != first.occasion
    assert drawn(job, "inspection booked") == []


def test_a_move_that_changes_the_coming_day_is_urgent(clock, shop, job, area) -> None:
    shop.look_at(area)
    asked = inspection(shop, area)
    clock.now = at("2026-03-09", "12:00").astimezone(UTC)
    happen(shop, asked, Happening.MOVED, "2026-03-20")
    assert one(job, "inspection rescheduled").urgent


def test_a_cancelled_inspection_is_told_and_its_eve_is_moot(clock, shop, job, area) -> None:
    shop.look_at(area)
    asked = inspection(shop, area)
    happen(shop, asked, Happening.CANCELLED, note="not ready")
    assert "cancelled. Note: not ready" in say(one(job, "inspection cancelled").text)
    assert drawn(job, "inspection tomorrow") == []


@pytest.mark.parametrize(
    ("happening", "name"),
    [(Happening.NO_ACCESS, "no access"), (Happening.NOBODY_CAME, "nobody came")],
)
def test_a_missed_inspection_is_told(clock, shop, job, area, happening, name) -> None:
    shop.look_at(area)
    asked = inspection(shop, area)
    clock.now = at("2026-03-10", "11:00").astimezone(UTC)
    happen(shop, asked, happening)
    assert who(job, name) == ["Builder", "Lead", "Office"]
    if happening == Happening.NO_ACCESS:
        happen(shop, asked, Happening.MOVED, "2026-03-12")
        assert drawn(job, name) == []


def test_a_result_is_told_area_by_area_for_a_week(clock, shop, job, area) -> None:
    shop.look_at(area)
    answered(shop, clock, area)
    due = one(job, "result recorded")
    assert "reference R7. East: accepted." in say(due.text)
    assert due.until == due.at + timedelta(days=7)


def test_a_deficiency_is_told_when_called_two_days_before_and_when_overdue(
    clock, shop, job, area
) -> None:
    shop.look_at(area)
    deficiency = called(shop, clock, area)
    assert "staple within 200 mm (at W-3). Correct it by Fri, Mar 20." in say(
        one(job, "deficiency called").text
    )
    assert one(job, "deficiency due").at == at("2026-03-18")
    assert one(job, "deficiency overdue").at == at("2026-03-21")
    assert who(job, "deficiency due") == ["Lead", "Office"]
    assert drawn(job, "re-inspection not booked") == []
    assert drawn(job, "rough-in ready") == []
    deficiency_correct(shop.lead, deficiency=deficiency)
    for name in ("deficiency called", "deficiency due", "deficiency overdue"):
        assert drawn(job, name) == []
    assert who(job, "re-inspection not booked") == ["Office"]
    inspection(shop, area)
    assert drawn(job, "re-inspection not booked") == []


def test_a_withdrawn_cover_release_is_urgent_once_board_may_be_hung(clock, shop, job, area) -> None:
    shop.release(area)
    assert who(job, "area released") == ["Builder", "Office"]
    cover_release_withdraw(shop.office, area=area, because="cable moved")
    assert drawn(job, "area released") == []
    assert one(job, "cover release withdrawn").urgent  # no day is named: it may be going on
    for board, urgent in ((date(2026, 3, 2), True), (date(2026, 3, 3), False)):
        job.drywall_on = board
        job.save()
        assert one(job, "cover release withdrawn").urgent == urgent


def test_what_was_withdrawn_and_is_held_no_more_waits_for_the_office(
    clock, shop, job, area
) -> None:
    shop.release(area)
    assert drawn(job, "release again") == []
    clock.now += timedelta(hours=1)
    shop.withdraw(area)
    assert drawn(job, "release again") == []
    clock.now += timedelta(hours=1)
    answer = shop.answer_withdrawal(area)
    due = one(job, "release again")
    assert (due.at, due.until) == (answer.recorded_at, None)
    assert "East: the cause of the withdrawal is corrected" in say(due.text)
    assert who(job, "release again") == ["Office"]
    item_observe(shop.lead, item=area.items.first(), outcome=Outcome.FIX)
    assert drawn(job, "release again") == []
    clock.now += timedelta(hours=1)
    item_observe(shop.lead, item=area.items.first(), outcome=Outcome.OK)
    assert one(job, "release again").occasion != due.occasion
    cover_release_issue(shop.office, area=area)
    assert drawn(job, "release again") == []


def test_what_is_still_held_is_told_before_the_drywall(clock, shop, job, area) -> None:
    job.drywall_on = date(2026, 3, 11)
    job.save()
    due = {each.at: say(each.text) for each in drawn(job, "cover date near")}
    assert list(due) == [at("2026-03-08"), at("2026-03-10")]
    assert "DO NOT COVER: East and West. Do not install insulation" in due[at("2026-03-08")]
    for each in job.areas.all():
        shop.release(each, reference=each.code)
    assert drawn(job, "cover date near") == []


def reach(shop, job, milestone: Milestone, **given) -> None:
    given.setdefault("reached_on", date(2026, 3, 2))
    milestone_record(shop.office, job=job, milestone=milestone, **given)


def test_from_the_hookup_to_the_certificate(clock, shop, job) -> None:
    for each in job.areas.all():
        shop.release(each, reference=each.code)
    assert drawn(job, "finish ready") == []
    until = date(2026, 4, 1)
    hookup = {"reference": "H1", "circuits": ["1"], "temporary_until": until}
    reach(shop, job, Milestone.HOOKUP, **hookup)
    assert "Only these circuits may be live: 1 All." in say(one(job, "hookup authorised").text)
    week, day = sorted({each.at for each in drawn(job, "temporary removal due")})
    assert (week, day) == (at("2026-03-25"), at("2026-04-01"))
    assert who(job, "finish ready") == ["Lead", "Office"]
    for item in job.items.filter(stage="finish").select_related("job__shop"):
        item_observe(shop.lead, item=item, outcome=Outcome.OK)
    job_settle(job.id)
    job.refresh_from_db()
    assert drawn(job, "finish ready") == []
    assert "First record that the temporary service is gone." in say(one(job, "final ready").text)
    reach(shop, job, Milestone.TEMPORARY_GONE)
    assert "is gone" not in say(one(job, "final ready").text)
    assert drawn(job, "temporary removal due") == []
    asked = inspection_ask(shop.office, job=job, kind=InspectionKind.FINAL)
    assert drawn(job, "final ready") == []
    happen(shop, asked, Happening.BOOKED, "2026-03-03")
    clock.now = at("2026-03-03", "10:00").astimezone(UTC)
    inspection_answer(shop.office, inspection=asked, answer=Answer.ACCEPTED, reference="F1")
    assert "final inspection: accepted. Reference F1." in say(one(job, "accepted").text)
    reach(shop, job, Milestone.FINAL, reference="C-9")
    assert "Certificate C-9." in say(one(job, "certificate in").text)
    assert who(job, "certificate in") == ["Builder", "Lead", "Office"]


def test_every_reason_is_silent_for_a_job_with_nothing_recorded(clock, shop) -> None:
    job = shop.job()
    assert {name: drawn(job, name) for name in reasons()} == {name: [] for name in reasons()}


def test_an_item_that_fails_makes_ready_moot(clock, shop, job, area) -> None:
    shop.look_at(area)
    item_observe(shop.lead, item=area.items.first(), outcome=Outcome.FIX)
    assert drawn(job, "rough-in ready") == []

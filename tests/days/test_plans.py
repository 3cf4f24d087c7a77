"""Plans of a shop: from its facts to who does what; told, repaired, supposed."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import say
from inspections.days.selectors import plan_changes, plan_loads, plan_work
from inspections.days.services import TAKEN_UP, plan_ask, plan_make, plan_tell, plans_due
from inspections.days.what_if import Supposed
from inspections.models import Answer, Happening, InspectionKind
from inspections.services.inspections import inspection_ask, inspection_happen
from jobs.access import NotAllowed
from jobs.models import Plan
from jobs.services.crews import absence_record, own_task_add, work_report
from tests.clock import Clock
from tests.days.crewed import EFFORT, MONDAY, crewed, made, rules, told

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def clock(monkeypatch) -> Clock:
    """The Friday before, in the afternoon."""
    return Clock(datetime(2026, 3, 13, 20, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def crews(shop):
    return crewed(shop)


@pytest.fixture
def job(shop, crews, house_bytes):
    return shop.roughed_in(house_bytes)


def kinds(plan: Plan) -> set[str]:
    return {row.kind for row in plan_work(plan)}


def test_a_house_becomes_tasks_in_their_order(job, shop) -> None:
    plan = made(shop)
    rows = {row.task: row for row in plan_work(plan)}
    assert kinds(plan) == {
        "rough-in", "panel", "inspection", "cover", "hookup", "finish", "energise", "walk",
    }  # fmt: skip
    rough = max(row.ends_on for row in rows.values() if row.kind == "rough-in")
    cover = min(row.starts_on for row in rows.values() if row.kind == "cover")
    assert rough < rows["inspection/rough-in"].starts_on <= cover
    assert rows["inspection/final"].starts_on > rows["walk"].ends_on
    assert rows["cover/living"].crew is None


def test_what_the_crew_has_seen_to_is_no_task_any_more(job, shop) -> None:
    for area in job.areas.all():
        shop.look_at(area)
    assert "rough-in" not in kinds(made(shop))


def test_what_is_reported_done_is_no_task_any_more(job, shop) -> None:
    work_report(shop.member, job=job, task="panel")
    assert "panel" not in kinds(made(shop))
    work_report(shop.member, job=job, task="panel", done=False)
    assert "panel" in kinds(made(shop))


def test_a_refused_area_is_inspected_again_with_the_fee_and_after_correction(job, shop) -> None:
    shop.authority.reinspection_fee = "$95"
    shop.authority.save()
    area = job.areas.get(code="bedroom")
    shop.look_at(area)
    shop.accept(area, Answer.NOT_ACCEPTED, called=("a box is loose",))
    rows = {row.task: row for row in plan_work(made(shop))}
    assert say(rows["inspection/rough-in"].name) == "reinspection, fee $95"
    correction = rows["correction/bedroom"]
    inspection = rows["inspection/rough-in"]
    assert (correction.ends_on, correction.end_part) < (inspection.starts_on, inspection.start_part)


def test_a_booked_inspection_stays_where_it_is_booked(job, shop) -> None:
    area = job.areas.get(code="bedroom")
    shop.look_at(area)
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[area])
    starts = datetime(2026, 3, 19, 15, tzinfo=UTC)  # 9:00 at the house
    inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=starts,
        ends_at=starts + timedelta(hours=2),
    )
    (row,) = [row for row in plan_work(made(shop)) if row.task == f"inspection/{inspection.id.hex}"]
    assert (row.starts_on, row.start_part) == (date(2026, 3, 19), 0)


def test_a_late_promise_says_why_and_what_would_help(job, shop) -> None:
    job.drywall_on = date(2026, 3, 18)
    job.save()
    (late,) = made(shop).late
    assert (late["what"], late["days"] > 0) == ("drywall", True)
    assert say(late["why"]).startswith("Lot 15: drywall date is ")
    assert "rough-in inspection" in say(late["chain"][0])
    assert late["changes"]


def test_own_work_is_planned_by_its_days(job, shop) -> None:
    own_task_add(shop.office, job=job, name="trench", minutes=600, not_before=date(2026, 3, 25))
    (row,) = [row for row in plan_work(made(shop)) if row.name == "trench"]
    assert row.starts_on >= date(2026, 3, 25)


def test_an_absence_moves_people_and_the_difference_says_where(job, crews, shop) -> None:
    told(shop)
    away = date(2026, 3, 16)
    for person in (shop.lead, crews[0].places.exclude(person=shop.lead).get().person):
        absence_record(shop.office, shop=shop.shop, person=person, from_day=away, to_day=away)
    plan = made(shop)
    assert not [r for r in plan_work(plan) if r.crew == crews[0] and r.starts_on == away]
    assert any("Crew A, Mon, Mar 16, morning" in say(change) for change in plan_changes(plan))


def test_a_supposition_is_planned_and_cannot_be_told(job, crews, shop) -> None:
    more = Supposed("more", crews[0].id, "Crew A", MONDAY, MONDAY + timedelta(days=20))
    plan = plan_ask(shop.office, shop=shop.shop, first_day=MONDAY, supposing=[more])
    plan = plan_make(plan.id, EFFORT)
    assert plan.state == Plan.State.MADE
    with pytest.raises(ValidationError, match="is a what-if"):
        plan_tell(shop.office, plan=plan)


def test_a_plan_that_cannot_be_made_says_why(job, shop) -> None:
    rules(shop, closures={(MONDAY + timedelta(days=n)).isoformat(): "closed" for n in range(99)})
    plan = made(shop)
    assert plan.state == Plan.State.REFUSED
    assert "have no working day" in say(plan.faults[0])


def test_a_job_without_a_house_is_said_to_be_left_out(shop, crews) -> None:
    shop.job("Lot 99")
    assert "Lot 99: no house is recorded" in say(made(shop).left[0])


def test_loads_are_within_what_a_crew_can_do(job, shop) -> None:
    plan = made(shop)
    loads = plan_loads(plan, plan_work(plan))
    assert {load.crew for load in loads} == {"Crew A", "Crew B"}
    assert any(load.minutes for load in loads)
    assert all(load.minutes <= load.capacity for load in loads)


def test_only_the_office_plans(job, shop) -> None:
    plan = made(shop)
    with pytest.raises(NotAllowed):
        plan_ask(shop.lead, shop=shop.shop)
    with pytest.raises(NotAllowed):
        plan_tell(shop.lead, plan=plan)


def test_a_plan_is_made_once_and_found_again_when_its_worker_died(job, shop) -> None:
    plan = plan_ask(shop.office, shop=shop.shop, first_day=MONDAY)
    assert plans_due() == []
    later = timezone.now() + timedelta(minutes=2)
    assert plans_due(later) == [plan.id]
    Plan.objects.filter(id=plan.id).update(begun_at=later)
    assert plans_due(later) == []
    assert plans_due(later + TAKEN_UP) == [plan.id]
    Plan.objects.filter(id=plan.id).update(begun_at=None)
    made_at = plan_make(plan.id, EFFORT).made_at
    assert plan_make(plan.id, EFFORT).made_at == made_at


def test_the_plan_told_last_is_not_undone_by_an_older_one(job, shop) -> None:
    older, newer = made(shop), made(shop)
    plan_tell(shop.office, plan=newer)
    with pytest.raises(ValidationError, match="later plan"):
        plan_tell(shop.office, plan=older)

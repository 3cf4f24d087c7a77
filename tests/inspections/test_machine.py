"""Anything that people and authorities can do, in any order: the invariants hold at each step.

Each run is many short lives of one job. After every step no live cover release stands beside a
hold, nothing unknown has passed, nothing recorded was lost; what is kept as a copy is what
the facts give. Steps that a service refuses count as steps: refusing must change nothing.
"""

from datetime import UTC, datetime, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Q
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from config.messages.stored import to_json
from inspections.conclusions.areas import area_holds, job_stage
from inspections.models import (
    CONCEALING,
    INSULATIONS,
    Acceptance,
    Answer,
    AreaStanding,
    CoverRelease,
    Deficiency,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    JobStanding,
    Observation,
    RecordEntry,
)
from inspections.record.chain import record_faults
from inspections.selectors import checklist
from inspections.services.acceptances import acceptance_elapse, acceptance_waive
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import (
    Held,
    NotReleased,
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import ItemsOpen, inspection_ask, inspection_happen
from inspections.services.insulation import insulation_choose
from inspections.services.milestones import milestone_record
from inspections.services.observations import (
    NothingToPass,
    item_observe,
    items_observe,
    observation_undo,
)
from inspections.services.permits import (
    permit_amend,
    permit_apply,
    permit_close,
    permit_extend,
    permit_issue,
)
from inspections.services.trades import trade_report
from inspections.standing.stages import Milestone
from inspections.tasks import settle_due
from jobs.models import Area, Job
from notifications.models import Notice
from tests.audit.audited import audited
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.people import Shopful

SHARDS, LIVES, STEPS, IN_ALL = 4, 180, 40, 10_000  # on each database
PART = 30  # `make test` plays a thirtieth, `make proof` all
EVERY = 5  # steps, after which one area is drawn from facts; all are at the end of a life
REFUSED = (Held, ItemsOpen, NotReleased, NothingToPass, ValidationError)
BEGIN = datetime(2026, 3, 2, 16, 0, tzinfo=UTC)

pytestmark = pytest.mark.django_db
taken = {"steps": 0, "refused": 0, "released": 0, "withdrawn": 0}


class Life(RuleBasedStateMachine):
    """One job, from nothing to wherever it gets."""

    shopful: Shopful
    clock: Clock

    def __init__(self) -> None:
        super().__init__()
        self.sandbox = transaction.atomic()
        self.sandbox.__enter__()
        self.clock.now = BEGIN
        self.office, self.lead = self.shopful.office, self.shopful.lead
        self.job = self.shopful.job()
        self.inspections: list[Inspection] = []
        self.written = 0

    def teardown(self) -> None:
        """Compare everything once more, then leave no trace."""
        try:
            self.settle()
            assert list(record_faults(self.job.id)) == []
            self.copies_are_what_the_facts_give()
            assert audited([self.job.id]) == []
            taken["released"] += CoverRelease.objects.filter(area__job=self.job).count()
            gone = CoverRelease.objects.filter(area__job=self.job, withdrawn_at__isnull=False)
            taken["withdrawn"] += gone.count()
            notices = Notice.objects.filter(job=self.job)
            assert len(notices) == len({(n.person_id, n.reason, n.occasion) for n in notices})
        finally:
            transaction.set_rollback(True)
            self.sandbox.__exit__(None, None, None)

    def attempt(self, service, *given, **named):
        """A step: done, or refused with nothing written."""
        taken["steps"] += 1
        self.clock.now += timedelta(minutes=7)
        before = RecordEntry.objects.filter(job=self.job).count()
        try:
            with transaction.atomic():
                return service(*given, **named)
        except REFUSED:
            taken["refused"] += 1
            assert RecordEntry.objects.filter(job=self.job).count() == before
            return None

    def area(self, number: int) -> Area | None:
        areas = list(self.job.areas.select_related("job__shop", "job__authority"))
        return areas[number % len(areas)] if areas else None

    def inspection(self, number: int):
        return self.inspections[-1 - number % len(self.inspections)] if self.inspections else None

    @rule()
    def apply_for_the_permit(self) -> None:
        if not hasattr(self.fresh(), "permit"):
            day = self.clock.now.date()
            self.attempt(permit_apply, self.office, job=self.job, applied_on=day)

    @rule(days=st.integers(-2, 30))
    def issue_the_permit(self, days: int) -> None:
        if permit := getattr(self.fresh(), "permit", None):
            day = self.clock.now.date()
            ends = day + timedelta(days=days)
            given = {"number": "P1", "issued_on": day, "expires_on": ends}
            self.attempt(permit_issue, self.office, permit=permit, **given)

    @rule(days=st.integers(1, 60))
    def extend_the_permit(self, days: int) -> None:
        if permit := getattr(self.fresh(), "permit", None):
            ends = self.clock.now.date() + timedelta(days=days)
            self.attempt(permit_extend, self.office, permit=permit, expires_on=ends)

    @rule()
    def amend_the_scope(self) -> None:
        if permit := getattr(self.fresh(), "permit", None):
            self.attempt(permit_amend, self.office, permit=permit, scope="and a shed")

    @rule()
    def close_the_permit(self) -> None:
        if permit := getattr(self.fresh(), "permit", None):
            day = self.clock.now.date()
            self.attempt(permit_close, self.office, permit=permit, closed_on=day)

    @rule(name=st.sampled_from([*HOUSES, "clean", "clean"]))
    def record_the_house(self, name: str) -> None:
        self.attempt(house_record, self.lead, job=self.job, house=HOUSES[name])

    @rule(number=st.integers(0, 40), outcome=st.sampled_from(["ok", "ok", "ok", "na", "fix"]))
    def look_at_an_item(self, number: int, outcome: str) -> None:
        items = list(Item.objects.filter(job=self.job).select_related("job__shop"))
        if items:
            item = items[number % len(items)]
            self.attempt(item_observe, self.lead, item=item, outcome=outcome, note="none here")

    @rule()
    def look_at_all_items(self) -> None:
        eyes = Q(verdict="verify") | Q(verdict="ok", workmanship=True)
        looks = Item.objects.filter(eyes, job=self.job, current=True)
        items = list(looks.select_related("job__shop"))
        self.attempt(items_observe, self.lead, items=items, outcome="ok")

    @rule(kind=st.sampled_from(InspectionKind), number=st.integers(0, 1), insist=st.booleans())
    def ask_for_an_inspection(self, kind: InspectionKind, number: int, insist: bool) -> None:
        area = self.area(number)
        given = {"kind": kind, "areas": [area] if area else [], "insist": insist}
        made = self.attempt(inspection_ask, self.office, job=self.job, **given)
        if made:
            self.inspections.append(made)

    @rule(number=st.integers(0, 1))
    def ask_and_book_a_rough_in(self, number: int) -> None:
        self.ask_for_an_inspection(InspectionKind.ROUGH_IN, number, True)
        self.happen(0, Happening.BOOKED, -1)

    @rule(
        number=st.integers(0, 2),
        happening=st.sampled_from([each for each in Happening if each != Happening.HELD]),
        hours=st.integers(-3, 30),
    )
    def happen(self, number: int, happening: Happening, hours: int) -> None:
        if inspection := self.inspection(number):
            given = {}
            if happening in (Happening.BOOKED, Happening.MOVED):
                given["starts_at"] = self.clock.now + timedelta(hours=hours)
                given["ends_at"] = given["starts_at"] + timedelta(hours=2)
            self.attempt(
                inspection_happen, self.office, inspection=inspection, happening=happening, **given
            )

    @rule(number=st.integers(0, 2), answer=st.sampled_from(Answer), lift=st.booleans())
    def answer(self, number: int, answer: Answer, lift: bool) -> None:
        if inspection := self.inspection(number):
            areas = list(inspection.areas.select_related("job"))
            by_area = inspection.kind in CONCEALING
            corrected = Deficiency.objects.filter(
                job=self.job, corrected_at__isnull=False, accepted_at__isnull=True
            )
            called = [] if answer == Answer.ACCEPTED else [Called(a, "no plate") for a in areas]
            self.attempt(
                inspection_answer,
                self.office,
                inspection=inspection,
                answers=dict.fromkeys(areas, answer) if by_area else {},
                answer=None if by_area else answer,
                reference=f"R{len(self.inspections)}",
                called=called,
                lifted=list(corrected) if lift else [],
            )

    @rule(number=st.integers(0, 2))
    def accept_and_lift(self, number: int) -> None:
        self.answer(number, Answer.ACCEPTED, True)

    @rule(number=st.integers(0, 5))
    def correct(self, number: int) -> None:
        called = list(Deficiency.objects.filter(job=self.job).select_related("job__shop"))
        if called:
            self.attempt(deficiency_correct, self.lead, deficiency=called[number % len(called)])

    @rule(number=st.integers(0, 1))
    def waive(self, number: int) -> None:
        if area := self.area(number):
            self.attempt(acceptance_waive, self.office, area=area, reference="W1")

    @rule(number=st.integers(0, 2), signed=st.sampled_from(["T. Vale", " "]))
    def declare_that_nobody_came(self, number: int, signed: str) -> None:
        if inspection := self.inspection(number):
            for area in inspection.areas.select_related("job__authority", "job__shop"):
                given = {"area": area, "inspection": inspection, "reference": "E1"}
                self.attempt(acceptance_elapse, self.office, **given, declared_by=signed)

    @rule(done=st.booleans(), trade=st.sampled_from(["plumbing", "plumbing", "masonry"]))
    def report_a_trade(self, done: bool, trade: str) -> None:
        self.attempt(trade_report, self.office, job=self.job, trade=trade, done=done)

    @rule(kind=st.sampled_from([kind for kind, _ in INSULATIONS]), barrier=st.booleans())
    def choose_the_insulation(self, kind: str, barrier: bool) -> None:
        given = {"kind": kind, "vapour_barrier": barrier}
        self.attempt(insulation_choose, self.office, job=self.job, **given)

    @rule(number=st.integers(0, 1))
    def release(self, number: int) -> None:
        if area := self.area(number):
            self.attempt(cover_release_issue, self.office, area=area)

    @rule(number=st.integers(0, 1), because=st.sampled_from(["called back", " "]))
    def withdraw(self, number: int, because: str) -> None:
        if area := self.area(number):
            self.attempt(cover_release_withdraw, self.office, area=area, because=because)

    @rule(number=st.integers(0, 1), says=st.sampled_from(["strapped", " "]), again=st.booleans())
    def answer_the_withdrawal(self, number: int, says: str, again: bool) -> None:
        if area := self.area(number):
            for cover_release in CoverRelease.objects.filter(area=area, withdrawn_by__isnull=False):
                given = {"says": says, "inspect_again": again}
                self.attempt(withdrawal_answer, self.lead, cover_release=cover_release, **given)

    @rule(number=st.integers(0, 40))
    def undo_a_look(self, number: int) -> None:
        looks = Observation.objects.filter(item__job=self.job).order_by("-recorded_at", "-id")
        if number < len(looks):
            self.attempt(observation_undo, self.lead, observation=looks[number])

    @rule(milestone=st.sampled_from(Milestone))
    def reach(self, milestone: Milestone) -> None:
        day = self.clock.now.date()
        given = {"milestone": milestone, "reached_on": day, "reference": "C1"}
        if milestone == Milestone.HOOKUP:
            given |= {"circuits": ["1"], "temporary_until": day}
        self.attempt(milestone_record, self.office, job=self.job, **given)

    @rule()
    def make_ready(self) -> None:
        """The straight way, so that lives get far enough to go wrong."""
        self.apply_for_the_permit()
        self.issue_the_permit(30)
        self.record_the_house("clean")
        self.report_a_trade(True, "plumbing")
        self.look_at_all_items()

    @rule(number=st.integers(0, 1), by_inspection=st.booleans())
    def come_to_be_released(self, number: int, by_inspection: bool) -> None:
        self.make_ready()
        for deficiency in Deficiency.objects.filter(job=self.job).select_related("job__shop"):
            self.attempt(deficiency_correct, self.lead, deficiency=deficiency)
        self.answer_the_withdrawal(number, "strapped", False)
        if by_inspection:
            self.ask_and_book_a_rough_in(number)
            self.answer(0, Answer.ACCEPTED, True)
        else:
            self.waive(number)
        self.release(number)

    @rule(hours=st.integers(1, 24 * 9))
    def time_passes(self, hours: int) -> None:
        """And the beat sweeps, as it does every minute."""
        taken["steps"] += 1
        self.clock.now += timedelta(hours=hours)
        settle_due()

    @rule()
    def settle(self) -> None:
        """The worker catches up."""
        taken["steps"] += 1
        settle_due()

    @invariant()
    def no_live_cover_release_with_a_hold(self) -> None:
        for standing in AreaStanding.objects.filter(area__job=self.job):
            live = CoverRelease.objects.filter(area=standing.area_id, withdrawn_at__isnull=True)
            assert standing.released == live.exists()
            assert not (standing.released and standing.hold_count)
            by_hand = CoverRelease.objects.filter(area=standing.area_id, withdrawn_by__isnull=False)
            assert not (standing.released and by_hand.filter(withdrawal_answer=None).exists())
        if taken["steps"] % EVERY == 0:
            self.one_area_is_what_the_facts_give()

    def one_area_is_what_the_facts_give(self) -> None:
        area = self.area(taken["steps"] // EVERY)
        if area is not None:
            standing = AreaStanding.objects.get(area=area)
            found = area_holds(area, self.clock.now)
            assert [hold["says"] for hold in standing.holds] == [
                to_json(hold.says) for hold in found
            ]

    @invariant()
    def nothing_recorded_is_lost(self) -> None:
        rows = Observation.objects.filter(item__job=self.job).count()
        rows += Acceptance.objects.filter(area__job=self.job).count()
        assert rows >= self.written
        self.written = rows

    def copies_are_what_the_facts_give(self) -> None:
        """Every cached conclusion, drawn again from facts, and no pass of what is unknown."""
        standings = list(
            AreaStanding.objects.filter(area__job=self.job).select_related("area__job")
        )
        for standing in standings:
            assert standing.hold_count == len(area_holds(standing.area, self.clock.now))
        kept = JobStanding.objects.filter(job=self.job).first()
        if kept is not None:
            assert kept.stage == job_stage(self.job.id, standings)
        for line in checklist(self.job):
            assert not (
                line.item.verdict in ("info_needed", "not_to_code") and line.standing == "ok"
            )

    def fresh(self) -> Job:
        return Job.objects.select_related("shop", "authority").get(id=self.job.id)


@pytest.mark.parametrize("shard", range(SHARDS))
def test_the_invariants_hold_after_every_step(shop, shard: int, whole: bool, monkeypatch) -> None:
    Life.shopful, Life.clock = shop, Clock(BEGIN).put(monkeypatch)
    shop.shop.trades = ["plumbing"]
    shop.shop.save()
    shop.authority.elapsed_hours, shop.authority.idle_days = 24, 40
    shop.authority.save()
    before = dict(taken)
    options = settings(
        max_examples=LIVES if whole else LIVES // PART,
        stateful_step_count=STEPS,
        deadline=None,
        database=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    machine = type(f"Life{shard}", (Life,), {})
    run_state_machine_as_test(machine, settings=options)
    done = {name: taken[name] - before[name] for name in taken}
    assert done["steps"] >= IN_ALL / SHARDS / (1 if whole else PART)
    assert done["refused"] > (200 if whole else 5)
    if whole:  # a part is too short for every shard to come by each of these
        assert min(done["released"], done["withdrawn"]) > 10

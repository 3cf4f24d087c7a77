"""Ticks that a phone made without signal: each kept once, in the order made, on what it knew."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.conclusions.items import items_with_seen, standing_of
from inspections.models import Item, Observation, Outcome
from inspections.record.chain import record_faults
from inspections.selectors import checklist
from inspections.services.observations import item_observe
from inspections.services.walks import TickState, Walked, walk_record
from inspections.standing.holds import Standing
from jobs.access import NotAllowed
from jobs.models import Job
from tests.clock import Clock
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db
MINUTE = timedelta(minutes=1)


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def item(job: Job) -> Item:
    """A look that a tape settles."""
    looks = job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN)
    return the_first(looks.filter(rule="free-conductors"))


def tick(item: Item, outcome: str = "ok", ago: int = 10, known: int = 60, **given) -> Walked:
    """A tick made so many minutes ago, on a checklist known before that."""
    now = timezone.now()
    made = Walked(
        id=uuid4(),
        item=item.id,
        outcome=Outcome(outcome),
        fingerprint=item.fingerprint,
        made_at=now - ago * MINUTE,
        known_at=now - known * MINUTE,
    )
    return replace(made, **given)


def told(person, job, *ticks, phone_now=None) -> list[tuple[TickState, str]]:
    taken = walk_record(person, job=job, ticks=ticks, phone_now=phone_now or timezone.now())
    assert [each.id for each in taken] == [each.id for each in ticks]
    return [(each.state, each.says) for each in taken]


def standing(item: Item) -> Standing:
    fresh = items_with_seen(Item.objects.filter(id=item.id)).get()
    return standing_of(fresh.verdict, fresh.seen, fresh.workmanship)


def test_a_tick_is_kept_with_when_it_was_made_and_when_it_came(shop, job, item) -> None:
    sent = tick(item, note="tape", measured_mm=310.5)
    assert told(shop.lead, job, sent) == [(TickState.KEPT, "")]
    kept = shop.own(Observation).get()
    assert (kept.id, kept.outcome, kept.note, kept.measured_mm) == (sent.id, "ok", "tape", 310.5)
    assert (kept.seen_at, kept.phone_at, kept.known_at) == (
        sent.made_at,
        sent.made_at,
        sent.known_at,
    )
    assert kept.recorded_at - kept.seen_at >= 10 * MINUTE
    assert standing(item) is Standing.OK
    assert job.record.last().detail == {"items": [f"{item}: ok"]}


def test_what_is_sent_again_is_kept_once_and_answered_the_same(shop, job, item) -> None:
    sent = tick(item)
    told(shop.lead, job, sent)
    entries = job.record.count()
    assert told(shop.lead, job, sent, sent) == [(TickState.KEPT, "")] * 2
    assert shop.own(Observation).count() == 1
    assert job.record.count() == entries
    assert list(record_faults(job.id)) == []


def test_another_tick_under_a_used_id_is_refused_and_the_rest_kept(shop, job, item) -> None:
    sent = tick(item)
    told(shop.lead, job, sent)
    other = tick(item, "fix", ago=5)
    (state, says), (kept, _) = told(shop.lead, job, replace(sent, outcome=Outcome.FIX), other)
    assert (state, kept) == (TickState.REFUSED, TickState.KEPT)
    assert "has this one's id" in says
    assert told(shop.member, job, sent)[0][0] is TickState.REFUSED
    assert shop.own(Observation).count() == 2


def test_a_fail_that_comes_later_is_not_answered_by_a_pass_that_came_before(
    shop, job, item
) -> None:
    told(shop.lead, job, tick(item, "ok", ago=5))
    ((state, says),) = told(shop.lead, job, tick(item, "fix", ago=30))
    assert state is TickState.CONTESTED
    assert "recorded “OK”" in says
    assert standing(item) is Standing.FIX
    told(shop.lead, job, tick(item, "fix", ago=1))
    assert standing(item) is Standing.FIX


def test_a_pass_made_before_a_fail_answers_it_for_nobody(shop, job, item) -> None:
    item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    for person in (shop.lead, shop.member):
        ((state, says),) = told(person, job, tick(item, "ok", ago=60, known=120))
        assert state is TickState.CONTESTED
        assert "Inspect it again" in says
        assert standing(item) is Standing.FIX
    (line,) = (line for line in checklist(job) if line.item == item)
    assert [seen.outcome for seen in line.contest] == ["ok", "fix"]
    assert sure(line.latest).outcome == "fix"


def test_a_clock_of_2099_hides_no_later_fail(shop, job, item) -> None:
    """On record from before such a moment was refused."""
    now = timezone.now()
    Observation.objects.create(
        item=item,
        outcome=Outcome.OK,
        fingerprint=item.fingerprint,
        seen_by=shop.lead,
        seen_at=datetime(2099, 6, 1, tzinfo=UTC),
        recorded_at=now,
    )
    assert standing(item) is Standing.OK
    item_observe(shop.member, item=item, outcome=Outcome.FIX)
    assert standing(item) is Standing.FIX
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert standing(item) is Standing.OK


def test_what_one_person_fixes_without_signal_is_passed_when_both_ticks_come(
    shop, job, item
) -> None:
    fixed = tick(item, "ok", ago=10), tick(item, "fix", ago=40)
    assert [state for state, _ in told(shop.lead, job, *fixed)] == [TickState.KEPT, TickState.KEPT]
    assert standing(item) is Standing.OK
    fail, passed = shop.own(Observation).order_by("seen_at")
    assert passed.recorded_at > fail.recorded_at == passed.known_at


def test_nobody_knows_of_another_by_having_looked_themselves(shop, job, item) -> None:
    """What one saw oneself is known only up to what another saw and one was not shown."""
    told(shop.member, job, tick(item, "fix", ago=50))
    told(shop.lead, job, tick(item, "fix", ago=40))
    ((state, says),) = told(shop.lead, job, tick(item, "ok", ago=10))
    assert state is TickState.CONTESTED
    assert "recorded “Fix”" in says
    assert standing(item) is Standing.FIX
    told(shop.lead, job, tick(item, "ok", ago=0, known=0))
    assert standing(item) is Standing.OK


def test_a_page_drawn_before_a_fail_does_not_pass_it(shop, job, item) -> None:
    (line,) = (line for line in checklist(job) if line.item == item)
    item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    given = {"item": item, "outcome": Outcome.OK}
    item_observe(shop.member, known_at=line.known_at, **given)
    assert standing(item) is Standing.FIX
    (line,) = (line for line in checklist(job) if line.item == item)
    assert line.contested
    item_observe(shop.member, known_at=line.known_at, **given)
    assert standing(item) is Standing.OK


def test_looks_come_in_turn_though_the_clock_stands_still_or_goes_back(
    shop, job, item, monkeypatch
) -> None:
    now = timezone.now()
    clocks = iter([now, now, now - timedelta(hours=1)])
    for outcome in ("fix", "ok", "fix"):
        moment = next(clocks)
        monkeypatch.setattr("django.utils.timezone.now", lambda moment=moment: moment)
        item_observe(shop.lead, item=item, outcome=Outcome(outcome))
    came = list(shop.own(Observation).order_by("recorded_at").values_list("outcome", flat=True))
    assert came == ["fix", "ok", "fix"]
    assert shop.own(Observation).values("recorded_at").distinct().count() == 3
    assert standing(item) is Standing.FIX


def test_a_clock_that_is_ahead_is_set_right_and_never_wins(shop, job, item) -> None:
    ahead = timezone.now() + timedelta(hours=3)
    sent = tick(item, made_at=ahead - 20 * MINUTE)
    told(shop.lead, job, sent, phone_now=ahead)
    kept = shop.own(Observation).get()
    assert kept.phone_at == sent.made_at
    assert abs(kept.recorded_at - kept.seen_at - 20 * MINUTE) < MINUTE
    told(shop.lead, job, tick(item, "fix", ago=10))
    assert standing(item) is Standing.FIX
    future = tick(item, made_at=timezone.now() + MINUTE)
    told(shop.lead, job, future)
    late = Observation.objects.get(id=future.id)
    assert late.seen_at == late.recorded_at


def test_a_tick_of_facts_that_changed_is_kept_and_does_not_count(shop, job, item) -> None:
    told(shop.lead, job, tick(item, "fix", ago=20))
    (state, says), *_ = told(shop.lead, job, tick(item, fingerprint="0123456789abcdef"))
    assert state is TickState.STALE
    assert "inspect the item again" in says
    assert shop.own(Observation).filter(stale=True).count() == 1
    assert standing(item) is Standing.FIX
    (line,) = (line for line in checklist(job) if line.item == item)
    assert sure(line.latest).outcome == "fix"


def test_a_pass_of_what_is_short_is_refused_with_the_remedy(shop, job, item) -> None:
    short = job.items.filter(verdict=Verdict.NOT_TO_CODE).first()
    if short is None:
        short = item
        Item.objects.filter(id=item.id).update(verdict="not_to_code")
    (state, says), (kept, _) = told(shop.lead, job, tick(short), tick(short, "fix"))
    assert (state, kept) == (TickState.REFUSED, TickState.KEPT)
    assert "This cannot be recorded as OK" in says


def test_what_was_not_there_is_answered_as_a_fail_is(shop, job, item) -> None:
    item_observe(shop.member, item=item, outcome=Outcome.CANT_SEE)
    ((state, says),) = told(shop.lead, job, tick(item, "ok", ago=60, known=120))
    assert (state, standing(item)) == (TickState.CONTESTED, Standing.OPEN)
    assert "recorded “Can't see”" in says
    told(shop.lead, job, tick(item, "ok", ago=0, known=0))
    assert standing(item) is Standing.OK


def test_two_who_did_not_know_of_each_other_are_both_kept_and_asked(shop, job, item) -> None:
    told(shop.lead, job, tick(item, "fix", ago=30))
    (state, says), *_ = told(shop.member, job, tick(item, "ok", ago=10))
    assert state is TickState.CONTESTED
    assert "Lead Tester recorded “Fix”" in says
    assert standing(item) is Standing.FIX
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert standing(item) is Standing.OK


def test_the_order_in_which_they_come_makes_no_difference(shop, job, item) -> None:
    told(shop.member, job, tick(item, "ok", ago=10))
    (state, _), *_ = told(shop.lead, job, tick(item, "fix", ago=30))
    assert state is TickState.CONTESTED
    assert standing(item) is Standing.FIX


def test_whoever_knew_of_the_other_decides(shop, job, item) -> None:
    told(shop.lead, job, tick(item, "fix", ago=30))
    assert told(shop.member, job, tick(item, ago=0, known=0)) == [(TickState.KEPT, "")]
    assert standing(item) is Standing.OK


def test_the_same_answer_of_two_is_no_contest(shop, job, item) -> None:
    told(shop.lead, job, tick(item, ago=30))
    assert told(shop.member, job, tick(item, ago=10)) == [(TickState.KEPT, "")]
    assert standing(item) is Standing.OK


def test_what_was_not_there_stays_open_even_where_figures_would_do(shop, job, item) -> None:
    meets = job.items.filter(verdict=Verdict.OK, stage=Item.Stage.ROUGH_IN).first()
    assert standing(meets) is Standing.OK
    told(shop.lead, job, tick(item, "cant_see"), tick(meets, "cant_see"))
    assert standing(item) is Standing.OPEN
    assert standing(meets) is Standing.OPEN


def test_an_item_of_another_job_is_refused_and_strangers_may_not(
    shop, job, item, stranger_shop, house_bytes
) -> None:
    other = stranger_shop.roughed_in(house_bytes)
    theirs = tick(other.items.first())
    (state, says), *_ = told(shop.lead, job, theirs)
    assert (state, says) == (
        TickState.REFUSED,
        "This item is not on this job. Open the walk again.",
    )
    with pytest.raises(NotAllowed):
        walk_record(shop.builder, job=job, ticks=[tick(item)], phone_now=timezone.now())
    with pytest.raises(NotAllowed):
        walk_record(stranger_shop.lead, job=job, ticks=[tick(item)], phone_now=timezone.now())
    assert not shop.own(Observation).exists()


def test_a_contest_is_told_by_the_clock_at_the_house(shop, job, item, monkeypatch) -> None:
    Clock(datetime(2026, 3, 16, 16, 30, tzinfo=UTC)).put(monkeypatch)
    told(shop.lead, job, tick(item, "fix", ago=20))
    ((state, says),) = told(shop.member, job, tick(item, "ok", ago=10))
    assert state is TickState.CONTESTED
    assert "recorded “Fix” at 10:10\u202fAM. Inspect it again" in says  # 16:10 by UTC

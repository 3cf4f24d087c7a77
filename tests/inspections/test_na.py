"""N/A: what does not apply here, one check at a time and with its reason, apart from OK on site."""

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from config.languages import say
from inspections.checker.finding import Verdict
from inspections.conclusions.areas import area_holds
from inspections.conclusions.items import items_with_seen
from inspections.conclusions.not_applicable import is_a_reason
from inspections.conclusions.undo import undoable
from inspections.models import Given, Item, Observation, Outcome
from inspections.overview.as_drawn import seen_ok
from inspections.overview.rooms import rooms_to_confirm
from inspections.overview.timeline import area_timeline
from inspections.selectors import ChecklistLine, line_of
from inspections.services.observations import (
    NotAsDrawn,
    NothingToPass,
    item_observe,
    items_confirm,
    items_observe,
    observation_undo,
)
from inspections.services.walks import TickState, Walked, walk_record
from inspections.standing.holds import Standing
from jobs.models import Area, Job
from tests.inspections.tiny import HOUSES
from tests.sure import the_first

pytestmark = pytest.mark.django_db
WHY = "no dishwasher in this house"
NO_MEASURE = {"measure_min_mm": None, "measure_max_mm": None}


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["short"])


@pytest.fixture
def item(job: Job) -> Item:
    """What somebody's eyes settle."""
    found = job.items.filter(verdict=Verdict.VERIFY, current=True, **NO_MEASURE)
    return the_first(found.select_related("area"))


@pytest.fixture
def drawn(job: Job) -> Item:
    """What is OK on plan and waits for somebody on site."""
    found = job.items.filter(verdict=Verdict.OK, workmanship=True, current=True, **NO_MEASURE)
    return the_first(found)


def na(person, item: Item, note: str = WHY, **given) -> Observation:
    return item_observe(person, item=item, outcome=Outcome.NA, note=note, **given)


def tick(item: Item, outcome: Outcome = Outcome.NA, note: str = WHY, **given) -> Walked:
    now = timezone.now()
    made = Walked(uuid4(), item.id, outcome, item.fingerprint, made_at=now, known_at=now, note=note)
    return replace(made, **given)


def open_in(area: Area) -> int:
    """How many checks hold the area until somebody has seen them."""
    found = 0
    for hold in area_holds(area, timezone.now()):
        if hold.reason == "open":
            found += int(say(hold.says, "en").split()[0])
    return found


def passed_as(line: ChecklistLine) -> tuple[Standing, bool, bool]:
    """Where a line stands, whether as N/A and whether as OK on site."""
    return line.standing, line.not_applicable, seen_ok(line)


@pytest.mark.parametrize("which", ["item", "drawn"])
def test_it_settles_what_eyes_settle_and_is_never_ok_on_site(shop, request, which: str) -> None:
    item = request.getfixturevalue(which)
    assert line_of(item).standing is Standing.OPEN
    na(shop.member, item)
    assert passed_as(line_of(item)) == (Standing.OK, True, False)
    assert items_with_seen(Item.objects.filter(id=item.id)).get().seen == "na"


def test_it_lifts_the_hold_of_its_line_and_no_other(shop, job, item) -> None:
    before = open_in(item.area)
    na(shop.member, item)
    assert open_in(item.area) == before - 1


@pytest.mark.parametrize("note", ["", "  ", "--", "n/a", "no"])
def test_without_a_reason_it_is_refused_and_nothing_is_written(shop, item, note: str) -> None:
    with pytest.raises(ValidationError) as refusal:
        na(shop.member, item, note)
    assert list(refusal.value.message_dict) == ["note"]
    assert not shop.own(Observation).exists()


@pytest.mark.parametrize("note", ["gas", "no dishwasher", "aucun", "não há", "24 V"])
def test_a_few_letters_are_a_reason(note: str) -> None:
    assert is_a_reason(note)


@pytest.mark.parametrize("given", [{"note": ""}, {"given": Given.ROOM}])
def test_no_table_takes_one_without_a_reason_or_by_the_room(shop, item, given) -> None:
    now = timezone.now()
    kept = {"outcome": Outcome.NA, "note": WHY, "fingerprint": item.fingerprint} | given
    with pytest.raises(IntegrityError, match="na_says_why"), transaction.atomic():
        Observation.objects.create(
            item=item, seen_by=shop.lead, seen_at=now, recorded_at=now, **kept
        )


@pytest.mark.parametrize(
    ("house", "which", "words"),
    [
        ("short", {"verdict": Verdict.NOT_TO_CODE}, "does not change what the figures say"),
        ("unknown", {"verdict": Verdict.INFO_NEEDED}, "does not change what the figures say"),
        ("short", {"verdict": Verdict.OK, "workmanship": False}, "OK by its figures"),
        ("short", {"verdict": Verdict.VERIFY, "measure_min_mm__gt": 0}, "requires a measurement"),
    ],
)
def test_what_eyes_do_not_settle_it_does_not(shop, house: str, which, words: str) -> None:
    job = shop.roughed_in(HOUSES[house])
    item = the_first(job.items.filter(current=True, **which))
    before = line_of(item).standing
    with pytest.raises(NothingToPass, match=words):
        na(shop.lead, item)
    ((state, says),) = sent(shop.lead, job, tick(item))
    assert state is TickState.REFUSED
    assert words in says
    assert not shop.own(Observation).exists()
    assert line_of(item).standing is before


def sent(person, job: Job, *ticks: Walked) -> list[tuple[TickState, str]]:
    taken = walk_record(person, job=job, ticks=ticks, phone_now=timezone.now())
    return [(each.state, each.says) for each in taken]


def test_what_the_shop_wants_photographed_it_does_not_settle(shop, job, item) -> None:
    shop.shop.photo_rules = [item.rule]
    shop.shop.save()
    with pytest.raises(NothingToPass, match="requires a photo"):
        na(shop.lead, Item.objects.get(id=item.id))
    ((state, says),) = sent(shop.lead, Job.objects.get(id=job.id), tick(item))
    assert (state, "requires a photo" in says) == (TickState.REFUSED, True)
    assert not shop.own(Observation).exists()


def test_a_room_check_never_gives_it(shop, job, item) -> None:
    (room,) = [each for each in rooms_to_confirm(job) if each.area == "east"]
    items = [line.item for line in room.lines]
    for refused in (items, items[:1]):
        with pytest.raises(NotAsDrawn, match="never gives N/A"):
            items_observe(
                shop.member, items=refused, outcome=Outcome.NA, note=WHY, given=Given.ROOM
            )
    with pytest.raises(NotAsDrawn, match="never gives N/A"):
        items_observe(shop.member, items=items, outcome=Outcome.NA, note=WHY)
    ((state, says),) = sent(shop.member, job, tick(items[0], given=Given.ROOM))
    assert (state, "never gives N/A" in says) == (TickState.REFUSED, True)
    assert not shop.own(Observation).exists()
    looks = items_confirm(shop.member, job=job, items=items)
    assert {look.outcome for look in looks} == {Outcome.OK}


def test_an_answered_check_is_no_part_of_the_room_any_more(shop, job, drawn) -> None:
    na(shop.member, drawn)
    waiting = [line.item.id for room in rooms_to_confirm(job) for line in room.lines]
    assert drawn.id not in waiting


def test_a_later_fix_holds_and_only_an_ok_answers_it(shop, item) -> None:
    na(shop.member, item)
    item_observe(shop.lead, item=item, outcome=Outcome.FIX, note="there is one")
    assert passed_as(line_of(item)) == (Standing.FIX, False, False)
    with pytest.raises(NothingToPass, match="Lead Tester recorded Fix here"):
        na(shop.member, item)
    assert line_of(item).standing is Standing.FIX
    item_observe(shop.member, item=item, outcome=Outcome.OK)
    assert passed_as(line_of(item)) == (Standing.OK, False, True)
    na(shop.lead, item, "removed since")
    assert passed_as(line_of(item)) == (Standing.OK, True, False)


def test_of_a_phone_that_knew_not_of_the_fix_it_is_kept_and_contested(shop, job, item) -> None:
    item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    earlier = timezone.now() - timedelta(hours=1)
    ((state, says),) = sent(shop.member, job, tick(item, made_at=earlier, known_at=earlier))
    assert state is TickState.CONTESTED
    assert "recorded “Fix”" in says
    line = line_of(item)
    assert line.standing is Standing.FIX
    assert {seen.outcome for seen in line.contest} == {"fix", "na"}


def test_it_says_why_nobody_can_see_it_and_is_open_again_once_somebody_cannot(shop, item) -> None:
    item_observe(shop.lead, item=item, outcome=Outcome.CANT_SEE)
    na(shop.member, item)
    assert line_of(item).not_applicable
    item_observe(shop.lead, item=item, outcome=Outcome.CANT_SEE)
    assert line_of(item).standing is Standing.OPEN


def test_a_tick_without_signal_is_kept_with_its_reason(shop, job, item) -> None:
    unsaid, said = tick(item, note=" - "), tick(item)
    ((refused, says), (kept, _)) = sent(shop.member, job, unsaid, said)
    assert (refused, kept) == (TickState.REFUSED, TickState.KEPT)
    assert says.startswith("Write why this check does not apply here")
    look = shop.own(Observation).get()
    assert (look.outcome, look.note, look.given) == ("na", WHY, "each")
    assert job.record.last().detail == {"items": [f"{item}: na"]}
    assert line_of(item).not_applicable


def test_of_facts_that_changed_it_is_kept_and_does_not_count(shop, job, item) -> None:
    stale = tick(item, fingerprint="0" * 16)
    ((state, _),) = sent(shop.member, job, stale)
    assert state is TickState.STALE
    assert line_of(item).standing is Standing.OPEN
    ((state, _),) = sent(shop.member, job, tick(item, note="", fingerprint="0" * 16))
    assert state is TickState.REFUSED


def test_it_counts_no_more_once_the_facts_are_others(shop, item) -> None:
    na(shop.member, item)
    Item.objects.filter(id=item.id).update(fingerprint="0" * 16)
    assert passed_as(line_of(item)) == (Standing.OPEN, False, False)


def test_nothing_of_it_is_undone_into_an_ok(shop, item) -> None:
    said = na(shop.lead, item)
    with pytest.raises(ValidationError, match="takes the place of N/A"):
        observation_undo(shop.lead, observation=said)
    wrong = item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    assert undoable(shop.lead, [(item, wrong)]) == set()
    with pytest.raises(ValidationError, match="was N/A before"):
        observation_undo(shop.lead, observation=wrong)
    assert shop.own(Observation).filter(outcome="ok").count() == 0


def test_the_history_of_the_area_says_it_with_its_reason(shop, item) -> None:
    na(shop.member, item)
    told = [say(each.what, "en") for each in area_timeline(item.area)]
    assert told[-1].startswith("1 item does not apply here: ")
    assert told[-1].endswith(f"“{WHY}”")

"""What is as drawn in a room is confirmed in one look, all of it or none, and kept as such."""

from dataclasses import replace
from datetime import UTC, datetime
from uuid import UUID

import pytest

from config.languages import say
from inspections.checker.finding import Verdict
from inspections.conclusions.as_drawn import kept_apart
from inspections.models import Given, Item, Observation, Outcome
from inspections.overview.as_drawn import waits_as_drawn
from inspections.overview.rooms import rooms_to_confirm
from inspections.overview.timeline import area_timeline
from inspections.selectors import checklist, line_of
from inspections.services.houses import house_record
from inspections.services.observations import (
    FactsChanged,
    NotAsDrawn,
    NothingToPass,
    item_observe,
    items_confirm,
    items_observe,
)
from inspections.services.photographs import photograph_add
from inspections.services.refusals import Refused
from inspections.services.walks import TickState, Walked, walk_record
from inspections.standing.holds import Standing
from jobs.access import NotAllowed
from tests.inspections.test_photographs import picture, upload
from tests.inspections.tiny import HOUSES, tiny

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 9, 17, tzinfo=UTC)


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["short"])


def room(job, area: str = "east") -> list[Item]:
    (found,) = [each for each in rooms_to_confirm(job) if each.area == area]
    return [line.item for line in found.lines]


def nothing_recorded(shop) -> bool:
    return not shop.own(Observation).exists()


def test_a_room_lists_what_is_as_drawn_and_waits(shop, job) -> None:
    places = [(each.area, each.room, each.name) for each in rooms_to_confirm(job)]
    assert places == [("east", "east", "East"), ("west", "west", "West")]
    listed = room(job) + room(job, "west")
    drawn = job.items.filter(verdict=Verdict.OK, workmanship=True)
    assert {item.id for item in listed} == set(drawn.values_list("id", flat=True))
    items_confirm(shop.member, job=job, items=room(job))
    assert [each.area for each in rooms_to_confirm(job)] == ["west"]


def test_a_room_is_confirmed_in_one_look_and_says_so(shop, job) -> None:
    items = room(job)
    before = job.record.count()
    looks = items_confirm(shop.member, job=job, items=items, note="all of it")
    assert {look.given for look in looks} == {Given.ROOM}
    assert {line_of(item).standing for item in items} == {Standing.OK}
    assert job.record.count() == before + 1
    entry = job.record.order_by("number").last()
    assert (entry.action, entry.detail["given"]) == ("room confirmed", "room")
    assert entry.detail["count"] == len(items)
    told = [say(each.what, "en") for each in area_timeline(items[0].area)]
    assert told[-1].startswith(f"Room check: {len(items)} items OK: ")
    assert told[-1].count("“all of it”") == 1


def test_an_answer_by_itself_is_kept_as_one(shop, job) -> None:
    (look,) = items_observe(shop.member, items=room(job)[:1], outcome=Outcome.OK)
    assert look.given == Given.EACH


@pytest.mark.parametrize(
    ("which", "words"),
    [
        ({"verdict": Verdict.NOT_TO_CODE}, "cannot be recorded as OK"),
        ({"verdict": Verdict.VERIFY}, "not OK on plan"),
        ({"verdict": Verdict.OK, "workmanship": False}, "OK by its figures"),
    ],
)
def test_with_one_that_is_none_of_it_nothing_is_recorded(shop, job, which, words: str) -> None:
    other = job.items.filter(area__code="east", **which).first()
    with pytest.raises(Refused, match=words):
        items_confirm(shop.member, job=job, items=[*room(job), other])
    assert nothing_recorded(shop)


def test_what_lacks_a_fact_is_no_part_of_it(shop) -> None:
    job = shop.roughed_in(HOUSES["unknown"])
    other = job.items.filter(verdict=Verdict.INFO_NEEDED).first()
    with pytest.raises(NothingToPass, match="cannot be recorded as OK"):
        items_confirm(shop.member, job=job, items=[*room(job), other])
    assert nothing_recorded(shop)


@pytest.mark.parametrize("outcome", list(Outcome))
def test_what_somebody_answered_is_left_to_his_answer(shop, job, outcome) -> None:
    items = room(job)
    item_observe(shop.lead, item=items[0], outcome=outcome, note="none here")
    assert items[0].id not in {item.id for item in room(job)}
    with pytest.raises(NotAsDrawn, match="answered already"):
        items_confirm(shop.member, job=job, items=items)
    assert shop.own(Observation).count() == 1
    items_confirm(shop.member, job=job, items=items[1:])


def test_what_the_shop_wants_photographed_has_its_photo_first(shop, job) -> None:
    items = room(job)
    shop.shop.photo_rules = [items[0].rule]
    shop.shop.save()
    job.refresh_from_db()
    wanted = [item for item in items if item.rule == items[0].rule]
    with pytest.raises(NotAsDrawn, match="take its photo first"):
        items_confirm(shop.member, job=job, items=items)
    assert nothing_recorded(shop)
    assert not {item.id for item in wanted} & {item.id for item in room(job)}
    for item in wanted:
        photograph_add(shop.lead, item=item, upload=upload(picture()))
    items_confirm(shop.member, job=job, items=room(job))
    assert shop.own(Observation).count() == len(items)


def test_other_facts_than_were_shown_are_refused_with_all_the_rest(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    items = room(job)
    shown = {item.id: item.fingerprint for item in items}
    house_record(shop.lead, job=job, house=tiny(braces=2))
    now = dict(job.items.values_list("id", "fingerprint"))
    assert [item for item in items if shown[item.id] != now[item.id]]
    with pytest.raises(FactsChanged):
        items_confirm(shop.member, job=job, items=items, shown=shown)
    assert nothing_recorded(shop)


def test_of_another_job_nothing_is_confirmed(shop, job) -> None:
    other = shop.roughed_in(HOUSES["short"])
    with pytest.raises(NotAsDrawn, match="not on this job's checklist"):
        items_confirm(shop.member, job=job, items=[*room(job), *room(other)[:1]])
    assert nothing_recorded(shop)


def test_who_is_not_of_the_site_confirms_nothing(shop, job) -> None:
    with pytest.raises(NotAllowed):
        items_confirm(shop.builder, job=job, items=room(job))


def walked(item: Item, number: int, outcome: Outcome = Outcome.OK) -> Walked:
    return Walked(
        id=UUID(int=number),
        item=item.id,
        outcome=outcome,
        fingerprint=item.fingerprint,
        made_at=NOW,
        known_at=NOW,
        given=Given.ROOM,
    )


def test_a_phone_tells_a_room_tick_by_tick(shop, job) -> None:
    eyes = job.items.filter(verdict=Verdict.VERIFY, area__code="east", rule="cable-bends").first()
    items = room(job)
    ticks = [walked(items[0], 1), walked(eyes, 2), walked(items[1], 3, Outcome.FIX)]
    taken = walk_record(shop.member, job=job, ticks=ticks, phone_now=NOW)
    assert [each.state for each in taken] == [TickState.KEPT] * 3
    kept = shop.own(Observation).order_by("id").values_list("outcome", "given")
    assert sorted(kept) == [("fix", "each"), ("ok", "room"), ("ok", "room")]


@pytest.mark.parametrize(
    ("which", "words"),
    [
        ({"rule": "bonding-made-up"}, "no room check answers this"),
        ({"rule": "panel-rough-in"}, "no room check answers this"),
        ({"verdict": Verdict.NOT_TO_CODE}, "cannot be recorded as OK"),
        ({"verdict": Verdict.OK, "workmanship": False}, "OK by its figures"),
    ],
)
def test_no_room_check_of_a_phone_answers_what_eyes_do_not_settle(
    shop, job, which, words: str
) -> None:
    item = job.items.filter(stage="rough-in", **which).first()
    (taken,) = walk_record(shop.member, job=job, ticks=[walked(item, 1)], phone_now=NOW)
    assert taken.state is TickState.REFUSED
    assert words in taken.says
    assert nothing_recorded(shop)


def test_a_figure_is_of_the_one_item_it_was_measured_at(shop, job) -> None:
    item = job.items.filter(verdict=Verdict.VERIFY, rule="edge-distance").first()
    measured = replace(walked(item, 1), measured_mm=item.measure.min_mm)
    (taken,) = walk_record(shop.member, job=job, ticks=[measured], phone_now=NOW)
    assert taken.state is TickState.KEPT
    look = shop.own(Observation).get()
    assert (look.given, look.measured_mm) == (Given.EACH, item.measure.min_mm)


def test_faces_offer_exactly_what_is_taken(shop, job) -> None:
    """Pages, walk and paper ask line by line, the write asks the tables: both say the same."""
    items = room(job)
    bare = next(item for item in items if item.rule != items[0].rule)
    shop.shop.photo_rules = [items[0].rule, bare.rule]
    shop.shop.save()
    job.refresh_from_db()
    item_observe(shop.lead, item=items[-1], outcome=Outcome.OK)
    item_observe(shop.lead, item=items[-2], outcome=Outcome.CANT_SEE)
    photograph_add(shop.lead, item=items[0], upload=upload(picture()))
    lines = checklist(job)
    apart = kept_apart([line.item for line in lines], job.shop.photo_rules)
    offered = {line.item.id for line in lines if waits_as_drawn(line, job.shop.photo_rules)}
    assert offered == {line.item.id for line in lines} - set(apart)
    assert items[0].id in offered
    assert bare.id not in offered
    assert not {items[-1].id, items[-2].id} & offered

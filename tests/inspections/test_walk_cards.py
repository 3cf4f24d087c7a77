"""What is walked together: three cards a room, every line once; and the sample of a house."""

from collections import Counter

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding, rules
from inspections.checker.house.rooms import RoomKind
from inspections.checker.load import load_house
from inspections.standing.samples import BOXES_OF_A_HOUSE, sample
from inspections.standing.walk_cards import (
    BY_RULE,
    BY_TOPIC,
    NEVER_TOGETHER,
    PlaceKind,
    WalkCard,
    WalkedThing,
    WalkPlace,
    card_of,
    settled_by_eye,
    walk_places,
)
from tests.conftest import EXAMPLES

HOUSES = sorted(path for path in EXAMPLES.rglob("*.json") if not path.name.endswith(".schema.json"))
KEY = b"a key of the site"


def places(path, stage: str) -> tuple[list[Finding], list[WalkPlace[Finding]]]:
    house = load_house(path.read_bytes())
    outdoors = {room.id for room in house.rooms if room.kind is RoomKind.OUTDOORS}

    def about(finding: Finding) -> WalkedThing:
        rule, spot = finding.rule, finding.spot
        return WalkedThing(rule.id, rule.topic, finding.subject, spot.room, spot.room in outdoors)

    every = check(house, load_rulebook(house.rulebook or ""))
    found = [finding for finding in every if finding.rule.stage == stage]
    return found, walk_places(found, about)


@pytest.mark.parametrize("stage", ["rough-in", "finish"])
@pytest.mark.parametrize("path", HOUSES, ids=lambda path: path.stem)
def test_a_room_has_three_cards_at_most_and_every_line_is_on_one(path, stage: str) -> None:
    found, walked = places(path, stage)
    assert walked
    for place in walked:
        assert len(place.cards) <= (3 if place.kind is PlaceKind.ROOM else 1)
        assert list(place.cards) == [card for card in WalkCard if card in place.cards]
        if place.kind is PlaceKind.ROOM:
            assert {finding.spot.room for finding in place.lines} == {place.room}
    lines = [finding.key for place in walked for finding in place.lines]
    assert Counter(lines) == Counter(finding.key for finding in found)
    kinds = [place.kind for place in walked if place.kind is not PlaceKind.ROOM]
    assert len(kinds) == len(set(kinds))
    assert [place.kind for place in walked] == sorted(
        (place.kind for place in walked), key=list(PlaceKind).index
    )


def test_the_full_house_is_fourteen_rooms_the_outside_and_the_panel() -> None:
    _, walked = places(EXAMPLES / "quillet-planted.json", "rough-in")
    assert Counter(place.kind for place in walked) == {
        PlaceKind.ROOM: 14,
        PlaceKind.OUTSIDE: 1,
        PlaceKind.PANEL: 1,
    }
    _, finish = places(EXAMPLES / "quillet-planted.json", "finish")
    assert [place.kind for place in finish][-2:] == [PlaceKind.PANEL, PlaceKind.BREAKERS]
    (breakers,) = [place for place in finish if place.kind is PlaceKind.BREAKERS]
    assert len(breakers.lines) == 21


@pytest.mark.parametrize(
    ("rule", "topic", "subject", "card"),
    [
        ("box-fill", "boxes", "R1", WalkCard.BOXES),
        ("staples", "cables", "room:living", WalkCard.CABLES),
        ("communications-separation", "communications", "D1/C24/living", WalkCard.CABLES),
        ("communications-boxes", "communications", "D1", WalkCard.BOXES),
        ("smoke-alarms", "alarms", "bed1", WalkCard.OWN),
        ("a-rule-of-tomorrow", "a topic of tomorrow", "R1", WalkCard.OWN),
        ("bonding-made-up", "panel", "room:living", WalkCard.BOXES),
        ("bonding-conductors", "panel", "c1", WalkCard.PANEL),
        ("small-appliance-circuits", "circuits", "circuit/sa1", WalkCard.PANEL),
        ("small-appliance-circuits", "circuits", "kitchen", WalkCard.OWN),
        ("protection-tested", "finish", "c1", WalkCard.BREAKERS),
    ],
)
def test_rule_topic_and_subject_say_the_card(rule, topic, subject, card: WalkCard) -> None:
    assert card_of(WalkedThing(rule, topic, subject, "living", outdoors=False)) is card
    outside = card_of(WalkedThing(rule, topic, subject, "back", outdoors=True))
    if card in (WalkCard.PANEL, WalkCard.BREAKERS):
        assert outside is card
    else:
        assert outside is WalkCard.OUTSIDE


def test_bonding_neutrals_and_the_panel_are_no_part_of_a_room_check() -> None:
    for rule in rules().values():
        alone = rule.topic in ("panel", "grounding") or rule.id in NEVER_TOGETHER
        assert settled_by_eye(rule.id, rule.topic) is not alone


def test_what_is_named_is_a_rule_or_a_topic() -> None:
    known = rules()
    assert {*BY_RULE, *NEVER_TOGETHER} <= {*known}
    assert {*BY_TOPIC} <= {rule.topic for rule in known.values()}


BOXES = {f"room {n}": [f"R{n}{m}" for m in range(n + 1)] for n in range(14)}


def test_a_sample_is_six_boxes_of_six_rooms_the_same_each_time() -> None:
    chosen = sample(KEY, "job", 3, BOXES)
    assert chosen == sample(KEY, "job", 3, dict(reversed(BOXES.items())))
    assert len(chosen) == BOXES_OF_A_HOUSE
    for room, boxes in chosen.items():
        assert len(boxes) == 1
        assert set(boxes) <= set(BOXES[room])


def test_another_job_revision_or_key_has_another_sample() -> None:
    ours = sample(KEY, "job", 3, BOXES)
    others = [
        sample(KEY, "job", 4, BOXES),
        sample(KEY, "another job", 3, BOXES),
        sample(b"another key", "job", 3, BOXES),
    ]
    assert ours not in others


def test_a_house_of_few_rooms_gives_several_boxes_of_one() -> None:
    few = {"one": ["R1", "R2", "R3", "R4", "R5"], "two": ["R6", "R7", "R8"], "none": []}
    chosen = sample(KEY, "job", 1, few)
    assert sum(map(len, chosen.values())) == BOXES_OF_A_HOUSE
    assert set(chosen) == {"one", "two"}
    assert sample(KEY, "job", 1, {"one": ["R1"]}) == {"one": ["R1"]}

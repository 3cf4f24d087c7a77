"""A house checked again after a change: the same findings as from the beginning."""

import json
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding, Scope, rules
from inspections.checker.house import House
from inspections.checker.house.boxes import OnWall
from inspections.checker.load import load_house
from inspections.checker.revision_check import change_between, recheck
from inspections.checker.site import HouseByCode
from tests.checker.build import house
from tests.conftest import EXAMPLES
from tests.lengths import examples
from tests.sure import of_kind, sure

NAMES = ("quillet-corrected.json", "quillet-planted.json", "marten.json")
HOUSES = {name: json.loads((EXAMPLES / name).read_text("utf-8")) for name in NAMES}
Data = dict[str, Any]
Draw = Callable[..., Any]


def loaded(data: Data) -> House:
    """The house that the values stand for."""
    return load_house(json.dumps(data).encode())


def moved(data: Data, draw: Draw) -> None:
    """A box along its wall, up or down, or off it."""
    box = draw(st.sampled_from(data["boxes"]))
    if box["place"]["surface"] != "wall":
        box["place"] = {"surface": "space"}
        return
    box["place"] |= draw(st.sampled_from([{"at_mm": 1.0}, {"height_mm": 1700}, {"height_mm": 20}]))
    if draw(st.booleans()):
        box["place"].pop("height_mm", None)


def altered(data: Data, draw: Draw) -> None:
    """A fact of a box otherwise, or missing."""
    box = draw(st.sampled_from(data["boxes"]))
    key, value = draw(
        st.sampled_from([("volume_ml", 60), ("gangs", 4), ("devices", []), ("connectors", 9)])
    )
    box[key] = value
    if draw(st.booleans()):
        box.pop(draw(st.sampled_from(sorted(set(box) - {"id", "room", "place"}))), None)


def carried(data: Data, draw: Draw) -> None:
    """A box into another room, out of sight."""
    box = draw(st.sampled_from(data["boxes"]))
    box["room"] = draw(st.sampled_from(data["rooms"]))["id"]
    box["place"] = {"surface": "space"}


def added(data: Data, draw: Draw) -> None:
    """A box like another, with a cable to it."""
    like = draw(st.sampled_from(data["boxes"]))
    data["boxes"].insert(draw(st.integers(0, len(data["boxes"]))), {**like, "id": "new"})
    cable = next(c for c in data["cables"] if c["kind"] == "nm")
    data["cables"].append({**cable, "id": "new", "ends": [like["id"], "new"], "through": []})


def cut(data: Data, draw: Draw) -> None:
    """A cable taken out that nothing else names."""
    together = ("holes", "separations", "notches", "fastenings", "bundles")
    named = {c for kind in together for p in data.get(kind, []) for c in p["cables"]}
    named |= {p["cable"] for kind in ("heat_gaps", "crossings") for p in data.get(kind, [])}
    free = [cable for cable in data["cables"] if cable["id"] not in named]
    data["cables"].remove(draw(st.sampled_from(free)))


def rerouted(data: Data, draw: Draw) -> None:
    """A cable to another box, or of another size."""
    cable = draw(st.sampled_from([c for c in data["cables"] if c["kind"] == "nm"]))
    if draw(st.booleans()):
        ends = [box["id"] for box in data["boxes"] if box["id"] not in cable["ends"]]
        cable["ends"] = [cable["ends"][0], draw(st.sampled_from(ends))]
    else:
        cable |= draw(st.sampled_from([{"awg": "10"}, {"insulated": 3}, {"bonding": 3}]))


def shuffled(data: Data, draw: Draw) -> None:
    """Boxes, rooms or cables in another order."""
    kind = draw(st.sampled_from(["boxes", "rooms", "cables", "areas"]))
    data[kind] = draw(st.permutations(data[kind]))


def elsewhere(data: Data, draw: Draw) -> None:
    """A counter or a wall otherwise, or the depth of a kind of device."""
    what = draw(st.sampled_from(["counter", "wall", "depth"]))
    if what == "counter" and data.get("counters"):
        draw(st.sampled_from(data["counters"]))["top_mm"] = 1400
    elif what == "wall":
        room = draw(st.sampled_from([room for room in data["rooms"] if room.get("walls")]))
        draw(st.sampled_from(room["walls"]))["kind"] = "railing"
    else:
        data["device_depth_mm"] = {"receptacle": draw(st.sampled_from([20, 45]))}


EDITS = [moved, altered, carried, added, cut, rerouted, shuffled, elsewhere]


@cache
def known(name: str, book: str) -> tuple[House, list[Finding]]:
    """An example house, and what is found in it."""
    plain = loaded(HOUSES[name])
    return plain, check(plain, load_rulebook(book))


@examples(60, 1000)
@given(st.sampled_from(sorted(HOUSES)), st.sampled_from(["cec-2021", "nec-2023"]), st.data())
def test_it_finds_what_a_whole_check_finds(name: str, book: str, data: st.DataObject) -> None:
    (before, findings), values = known(name, book), json.loads(json.dumps(HOUSES[name]))
    for edit in data.draw(st.lists(st.sampled_from(EDITS), min_size=1, max_size=2, unique=True)):
        edit(values, data.draw)
    after, rulebook = loaded(values), load_rulebook(book)
    assert recheck(before, findings, after, rulebook) == check(after, rulebook)


def only(house_value: House, **changes: Any) -> House:
    """The house with one box changed."""
    first, *rest = house_value.boxes
    return house_value.model_copy(update={"boxes": (first.model_copy(update=changes), *rest)})


def test_the_same_house_is_not_checked_at_all(monkeypatch) -> None:
    plain, book = loaded(HOUSES["marten.json"]), load_rulebook("nec-2023")
    findings = check(plain, book)
    monkeypatch.setattr("inspections.checker.revision_check.rules", dict)
    assert recheck(plain, findings, plain.model_copy(), book) == findings


def test_a_moved_box_touches_its_room_and_nothing_else() -> None:
    plain = loaded(HOUSES["quillet-corrected.json"])
    box = plain.boxes[0]
    place = box.place.model_copy(update={"at_mm": 5.0})
    change = change_between(plain, only(plain, place=place))
    assert change is not None
    assert change.rooms == {box.room}
    assert change.only_moved
    assert [(old.id, new.place) for old, new in change.moved] == [(box.id, place)]


def test_a_box_that_changed_otherwise_has_not_only_moved() -> None:
    plain = loaded(HOUSES["quillet-corrected.json"])
    change = change_between(plain, only(plain, gangs=5))
    assert change is not None
    assert not change.only_moved
    assert change.moved == ()
    both = change_between(plain, only(plain, gangs=5, place=plain.boxes[1].place))
    assert both is not None
    assert not both.only_moved


def test_a_cable_touches_the_rooms_of_everything_it_joins_or_passes() -> None:
    rooms = [{"id": name} for name in ("r", "q", "p", "o")]
    boxes = [{"id": "b", "room": "q"}, {"id": "c", "room": "p"}, {"id": "d", "room": "o"}]
    run = {"awg": "14", "ends": ["P", "b"]}
    plain = house(rooms=rooms, boxes=boxes, cables=[run])
    passing = house(rooms=rooms, boxes=boxes, cables=[{**run, "through": [{"box": "c"}]}])
    other = house(rooms=rooms, boxes=boxes, cables=[{**run, "ends": ["P", "d"]}])
    gone = house(rooms=rooms, boxes=boxes)
    touched = [change_between(plain, after) for after in (passing, other, gone)]
    assert [set(sure(change).rooms) for change in touched] == [
        {"r", "q", "p"},
        {"r", "q", "o"},
        {"r", "q"},
    ]


@pytest.mark.parametrize("kind", ["boxes", "cables", "rooms", "areas", "circuits"])
def test_another_order_or_another_part_is_taken_as_the_whole_house(kind: str) -> None:
    plain = loaded(HOUSES["quillet-corrected.json"])
    assert (
        change_between(plain, plain.model_copy(update={kind: getattr(plain, kind)[::-1]})) is None
    )


def test_rules_say_what_they_rest_on() -> None:
    assert rules()["box-fill"].scope is Scope.ROOM
    assert rules()["communications-separation"].scope is Scope.WIRING


def test_a_wiring_rule_keeps_its_findings_while_boxes_only_move(monkeypatch) -> None:
    plain, book = loaded(HOUSES["quillet-corrected.json"]), load_rulebook("cec-2021")
    findings, box = check(plain, book), plain.boxes[0]
    rule = rules()["communications-separation"]
    asked: list[HouseByCode] = []

    def noted(site: HouseByCode) -> Any:
        asked.append(site)
        return rule.check(site)

    wiring = type(rule)(rule.id, rule.topic, "", "", noted, rule.tell, "", Scope.WIRING)
    monkeypatch.setattr("inspections.checker.revision_check.rules", lambda: {rule.id: wiring})
    mine = [finding for finding in findings if finding.rule is rule]
    after = only(plain, place=box.place.model_copy(update={"at_mm": 5.0}))
    assert recheck(plain, mine, after, book) == mine
    assert asked == []
    recheck(plain, mine, only(plain, gangs=3), book)
    assert len(asked) == 1
    placed = [
        type(mine[0])(rule, "x", mine[0].verdict, HouseByCode(plain, book).box_spot(box), {}, ())
    ]
    recheck(plain, placed, after, book)
    assert len(asked) == 2


def test_alarm_rules_are_asked_again_only_when_an_alarm_moves(monkeypatch) -> None:
    plain, book = loaded(HOUSES["quillet-corrected.json"]), load_rulebook("cec-2021")
    rule = rules()["smoke-alarms"]
    assert rule.scope is Scope.ALARMS
    mine = [finding for finding in check(plain, book) if finding.rule is rule]
    asked: list[HouseByCode] = []

    def noted(site: HouseByCode) -> Any:
        asked.append(site)
        return rule.check(site)

    alarms = type(rule)(rule.id, rule.topic, "", "", noted, rule.tell, "", Scope.ALARMS)
    monkeypatch.setattr("inspections.checker.revision_check.rules", lambda: {rule.id: alarms})
    kinds = {box.id: {device.kind.value for device in box.devices} for box in plain.boxes}
    receptacle = next(box for box in plain.boxes if "receptacle" in kinds[box.id])
    alarm = next(box for box in plain.boxes if "smoke_alarm" in kinds[box.id])
    for box, times in ((receptacle, 0), (alarm, 1)):
        away = box.model_copy(update={"place": plain.boxes[-1].place})
        boxes = tuple(away if each is box else each for each in plain.boxes)
        recheck(plain, mine, plain.model_copy(update={"boxes": boxes}), book)
        assert len(asked) == times


def test_a_rule_of_placed_things_speaks_only_about_the_rooms_of_what_moved(monkeypatch) -> None:
    plain, book = loaded(HOUSES["quillet-corrected.json"]), load_rulebook("cec-2021")
    rule = rules()["ground-fault-protection"]
    assert rule.scope is Scope.PLACED
    mine = [finding for finding in check(plain, book) if finding.rule is rule]
    box = next(each for each in plain.boxes if each.id == mine[0].subject)
    asked: list[tuple[str, ...]] = []

    def noted(site: HouseByCode) -> Any:
        asked.append(tuple(room.id for room in site.asked))
        return rule.check(site)

    placed = type(rule)(rule.id, rule.topic, "", "", noted, rule.tell, "", Scope.PLACED)
    monkeypatch.setattr("inspections.checker.revision_check.rules", lambda: {rule.id: placed})
    place = of_kind(OnWall, box.place)
    near = place.model_copy(update={"at_mm": sure(place.at_mm) + 10})
    boxes = tuple(e.model_copy(update={"place": near}) if e is box else e for e in plain.boxes)
    found = recheck(plain, mine, plain.model_copy(update={"boxes": boxes}), book)
    assert asked == [(box.room,)]
    assert [f.key for f in found] == [f.key for f in mine]
    boxes = tuple(e.model_copy(update={"gangs": 3}) if e is box else e for e in plain.boxes)
    recheck(plain, mine, plain.model_copy(update={"boxes": boxes}), book)
    assert len(asked[1]) == len(plain.rooms)

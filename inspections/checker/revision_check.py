"""A house checked again after a change, at the cost of what the change could touch."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from inspections.checker.check import walking_order
from inspections.checker.finding import Finding, Rule, Scope, rules
from inspections.checker.graph.supply import ALARMS
from inspections.checker.house import House
from inspections.checker.house.boxes import Box
from inspections.checker.house.cables import Cable
from inspections.checker.house.power import Appliance, Panel
from inspections.checker.house.rooms import Counter
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode

FOLLOWED = ("boxes", "cables", "counters")
"""The lists whose changes are followed part by part; any other change checks the whole house."""


@dataclass(frozen=True, slots=True)
class HouseDifference:
    """What differs between two houses: the rooms that it touches, and the boxes that only moved."""

    rooms: frozenset[str]
    moved: tuple[tuple[Box, Box], ...]
    only_moved: bool
    """Whether nothing changed but where boxes stand within their rooms."""


class Focus(HouseByCode):
    """A site whose lists hold only some rooms and what stands there; it looks up the whole."""

    def __init__(self, house: House, rulebook: Rulebook, rooms: frozenset[str]) -> None:
        inside = []
        for box in house.boxes:
            if box.room in rooms:
                inside.append(box)
        boxes = tuple(inside)
        names = set()
        for box in boxes:
            names.add(box.id)
        cables = []
        for cable in house.cables:
            if not names.isdisjoint(_nodes(cable)):
                cables.append(cable)
        found = []
        for room in house.rooms:
            if room.id in rooms:
                found.append(room)
        counters = []
        for each in house.counters:
            if each.room in rooms:
                counters.append(each)
        part = {
            "rooms": tuple(found),
            "counters": tuple(counters),
            "boxes": boxes,
            "cables": tuple(cables),
        }
        super().__init__(house.model_copy(update=part), rulebook)
        self.rooms = {room.id: room for room in house.rooms}
        self._room_rank = {room.id: rank for rank, room in enumerate(house.rooms)}


def recheck(
    before: House, findings: Iterable[Finding], after: House, rulebook: Rulebook
) -> list[Finding]:
    """What `check(after, rulebook)` finds, given what it found in the house before the change.

    `findings` are those of the same rulebook, with the same amendments.
    """
    change = change_between(before, after)
    site = HouseByCode(after, rulebook)
    if change is None:
        made = []
        for rule in rules().values():
            for finding in rule.check(site):
                made.append(finding)
        return walking_order(made)
    if not change.rooms:
        return list(findings)
    kept: dict[str, list[Finding]] = {}
    for finding in findings:
        kept.setdefault(finding.rule.id, []).append(finding)
    was = None
    if change.only_moved:
        was = HouseByCode(before, rulebook)
    focus = Focus(after, rulebook, change.rooms)
    found: list[Finding] = []
    for rule in rules().values():
        mine = kept.get(rule.id, [])
        if rule.scope is Scope.ROOM:
            for f in mine:
                if f.spot.room not in change.rooms:
                    found.append(f)
            found += rule.check(focus)
        elif was and _untouched(rule, mine, was, change):
            found += mine
        elif was and rule.scope is Scope.PLACED:
            for f in mine:
                if f.spot.room not in change.rooms:
                    found.append(f)
            found += rule.check(site.narrowed(change.rooms))
        else:
            found += rule.check(site)
    return walking_order(found)


def _untouched(
    rule: Rule, findings: list[Finding], was: HouseByCode, change: HouseDifference
) -> bool:
    """Whether a rule says the same after boxes only moved."""
    if rule.scope is Scope.ALARMS and any(_alarm(old) for old, _ in change.moved):
        return False
    scoped = rule.scope in (Scope.WIRING, Scope.ALARMS)
    return scoped and not _stands_there(findings, was, change)


def _alarm(box: Box) -> bool:
    for device in box.devices:
        if device.kind in ALARMS:
            return True
    return False


def _stands_there(findings: list[Finding], was: HouseByCode, change: HouseDifference) -> bool:
    """Whether any of the findings is placed at a box that moved."""
    spots = []
    for old, _ in change.moved:
        spots.append(was.box_spot(old))
    rooms = set()
    for spot in spots:
        rooms.add(spot.room)
    for finding in findings:
        if finding.spot.room in rooms and finding.spot in spots:
            return True
    return False


def change_between(before: House, after: House) -> HouseDifference | None:
    """What changed, or None when it has to be taken as the whole house."""
    for name in House.model_fields:
        if name not in FOLLOWED and not _same(getattr(before, name), getattr(after, name)):
            return None
    pairs: dict[str, list[tuple[Any, Any]]] = {}
    for name in FOLLOWED:
        found = _changed(getattr(before, name), getattr(after, name))
        if found is None:
            return None
        pairs[name] = found
    rooms = _rooms(pairs["boxes"]) | _rooms(pairs["counters"])
    for old, new in pairs["cables"]:
        rooms |= _rooms_of(before, old) | _rooms_of(after, new)
    boxes = []
    for old, new in pairs["boxes"]:
        if _moved(old, new):
            boxes.append((old, new))
    moved = tuple(boxes)
    only = len(moved) == len(pairs["boxes"]) and not pairs["cables"] and not pairs["counters"]
    return HouseDifference(frozenset(rooms), moved, only)


def _same(old: Any, new: Any) -> bool:
    return old is new or bool(old == new)


def _changed(old: tuple[Any, ...], new: tuple[Any, ...]) -> list[tuple[Any, Any]] | None:
    """Each part that is not as it was, with None where it is not; None when the order changed."""
    if old is new:
        return []
    if len(old) == len(new) and all(a.id == b.id for a, b in zip(old, new, strict=True)):
        changed = []
        for a, b in zip(old, new, strict=True):
            if not _same(a, b):
                changed.append((a, b))
        return changed
    by_id = {}
    for part in old:
        by_id[part.id] = part
    found = {}
    for part in new:
        found[part.id] = part
    was, now = by_id, found
    if [name for name in was if name in now] != [name for name in now if name in was]:
        return None
    pairs = []
    for name in dict.fromkeys([*was, *now]):
        a, b = was.get(name), now.get(name)
        if a is None or b is None or not _same(a, b):
            pairs.append((a, b))
    return pairs


def _rooms(pairs: list[tuple[Box | Counter | None, Box | Counter | None]]) -> set[str]:
    rooms: set[str] = set()
    for pair in pairs:
        for part in pair:
            if part is not None:
                rooms.add(part.room)
    return rooms


def _rooms_of(house: House, cable: Cable | None) -> set[str]:
    """The rooms of whatever a cable joins or passes."""
    if cable is None:
        return set()
    nodes = _nodes(cable)
    lists: tuple[Iterable[Box | Panel | Appliance], ...]
    lists = (house.boxes, house.panels, house.appliances)
    rooms: set[str] = set()
    for parts in lists:
        for part in parts:
            if part.id in nodes:
                rooms.add(part.room)
    return rooms


def _nodes(cable: Cable) -> set[str]:
    boxes = []
    for through in cable.through:
        boxes.append(through.box)
    return {*cable.ends, *boxes}


def _moved(old: Box | None, new: Box | None) -> bool:
    """Whether a box is as it was but for its place in the same room."""
    return (
        old is not None and new is not None and old.model_copy(update={"place": new.place}) == new
    )

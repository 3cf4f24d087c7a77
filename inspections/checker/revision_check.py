"""A house checked again after a change, at the cost of what the change could touch."""

from collections.abc import Iterable, Iterator
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
        boxes = _within(house.boxes, rooms)
        names = {box.id for box in boxes}
        cables = []
        for cable in house.cables:
            if not names.isdisjoint(cable.nodes):
                cables.append(cable)
        mine = []
        for room in house.rooms:
            if room.id in rooms:
                mine.append(room)
        part = {
            "rooms": tuple(mine),
            "counters": _within(house.counters, rooms),
            "boxes": boxes,
            "cables": tuple(cables),
        }
        super().__init__(house.model_copy(update=part), rulebook)
        self.rooms = {room.id: room for room in house.rooms}
        self._room_rank = {room.id: rank for rank, room in enumerate(house.rooms)}


def _within(parts: Iterable[Any], rooms: frozenset[str]) -> tuple[Any, ...]:
    """Those of the parts that stand in these rooms."""
    inside = []
    for part in parts:
        if part.room in rooms:
            inside.append(part)
    return tuple(inside)


def recheck(
    before: House, findings: Iterable[Finding], after: House, rulebook: Rulebook
) -> list[Finding]:
    """What `check(after, rulebook)` finds, given what it found in the house before the change.

    `findings` are those of the same rulebook, with the same amendments.
    """
    change = change_between(before, after)
    site = HouseByCode(after, rulebook)
    if change is None:
        return _checked_anew(site)
    if not change.rooms:
        return list(findings)
    kept = _by_rule(findings)
    was = None
    if change.only_moved:
        was = HouseByCode(before, rulebook)
    focus = Focus(after, rulebook, change.rooms)
    found: list[Finding] = []
    for rule in rules().values():
        mine = kept.get(rule.id, [])
        if rule.scope is Scope.ROOM:
            found += _elsewhere(mine, change.rooms)
            found += rule.check(focus)
        elif was and _untouched(rule, mine, was, change):
            found += mine
        elif was and rule.scope is Scope.PLACED:
            found += _elsewhere(mine, change.rooms)
            found += rule.check(site.narrowed(change.rooms))
        else:
            found += rule.check(site)
    return walking_order(found)


def _checked_anew(site: HouseByCode) -> list[Finding]:
    found: list[Finding] = []
    for rule in rules().values():
        found += rule.check(site)
    return walking_order(found)


def _by_rule(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.rule.id, []).append(finding)
    return by_rule


def _elsewhere(findings: Iterable[Finding], rooms: frozenset[str]) -> Iterator[Finding]:
    """Those of other rooms."""
    for finding in findings:
        if finding.spot.room not in rooms:
            yield finding


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
    if not _same_but_followed(before, after):
        return None
    changes: dict[str, list[tuple[Any, Any]]] = {}
    for name in FOLLOWED:
        changed = _changed(getattr(before, name), getattr(after, name))
        if changed is None:
            return None
        changes[name] = changed
    rooms = _rooms(changes["boxes"]) | _rooms(changes["counters"])
    for old, new in changes["cables"]:
        rooms |= _rooms_of(before, old) | _rooms_of(after, new)
    moved = []
    for old, new in changes["boxes"]:
        if _moved(old, new):
            moved.append((old, new))
    others = changes["cables"] or changes["counters"]
    only_moved = not others and len(moved) == len(changes["boxes"])
    return HouseDifference(frozenset(rooms), tuple(moved), only_moved)


def _same_but_followed(before: House, after: House) -> bool:
    for name in House.model_fields:
        if name not in FOLLOWED and not _same(getattr(before, name), getattr(after, name)):
            return False
    return True


def _same(old: Any, new: Any) -> bool:
    return old is new or bool(old == new)


def _changed(old: tuple[Any, ...], new: tuple[Any, ...]) -> list[tuple[Any, Any]] | None:
    """Each part that is not as it was, with None where it is not; None when the order changed."""
    if old is new:
        return []
    pairs = _paired(old, new)
    if pairs is None:
        return None
    changed = []
    for was, now in pairs:
        if was is None or now is None or not _same(was, now):
            changed.append((was, now))
    return changed


def _paired(
    old: tuple[Any, ...], new: tuple[Any, ...]
) -> Iterable[tuple[Any | None, Any | None]] | None:
    """Each part as it was and as it is, by its id; None when those of both are in another order."""
    if _in_step(old, new):
        return zip(old, new, strict=True)
    was, now = _by_id(old), _by_id(new)
    if [name for name in was if name in now] != [name for name in now if name in was]:
        return None
    pairs = []
    for name in dict.fromkeys([*was, *now]):
        pairs.append((was.get(name), now.get(name)))
    return pairs


def _in_step(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    """Whether both hold the same parts in the same order."""
    if len(old) != len(new):
        return False
    return all(was.id == now.id for was, now in zip(old, new, strict=True))


def _by_id(parts: tuple[Any, ...]) -> dict[str, Any]:
    return {part.id: part for part in parts}


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
    nodes = cable.nodes
    lists: tuple[Iterable[Box | Panel | Appliance], ...]
    lists = (house.boxes, house.panels, house.appliances)
    rooms: set[str] = set()
    for parts in lists:
        for part in parts:
            if part.id in nodes:
                rooms.add(part.room)
    return rooms


def _moved(old: Box | None, new: Box | None) -> bool:
    """Whether a box is as it was but for its place in the same room."""
    return (
        old is not None and new is not None and old.model_copy(update={"place": new.place}) == new
    )

"""The planted house, what its rulebook says of it, and the same again after one change."""

import json
from copy import deepcopy
from functools import cache
from typing import Any

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix, FixKind
from inspections.checker.house.paths import put_at
from inspections.checker.load import load_house
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode
from inspections.fixes.fixes import HouseFacts
from tests.conftest import EXAMPLES

STEP_MM = 150.0
"""How far apart places along a wall are tried."""


@cache
def raw() -> dict[str, Any]:
    """The house file as JSON; whoever changes it copies it first."""
    house: dict[str, Any] = json.loads((EXAMPLES / "quillet-planted.json").read_bytes())
    return house


@cache
def house() -> House:
    """The house."""
    return load_house(json.dumps(raw()).encode())


@cache
def facts() -> HouseFacts:
    """The house with its values by path."""
    return HouseFacts(house())


@cache
def book() -> Rulebook:
    """The rulebook that it is built to."""
    chosen = house().rulebook
    assert chosen
    return load_rulebook(chosen)


@cache
def failing() -> tuple[Finding, ...]:
    """What is not to code or lacks info."""
    found = []
    for finding in check(house(), book()):
        if finding.verdict in (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED):
            found.append(finding)
    return tuple(found)


def changed(path: tuple[str | int, ...], value: Any) -> House:
    """The house with one value changed, read as any house file is."""
    after = deepcopy(raw())
    put_at(after, path, value)
    return load_house(json.dumps(after).encode())


def again(finding: Finding, after: House) -> Verdict | None:
    """What the same rule says of the same subject of another house; None where it is gone."""
    for each in finding.rule.check(HouseByCode(after, book())):
        if each.key == finding.key:
            return each.verdict
    return None


def complying(fix: Fix) -> list[Any]:
    """Values that comply with what a fix is held to, or that it offers."""
    match fix.kind:
        case FixKind.DONE | FixKind.ADDED:
            return [fix.to]
        case FixKind.CHOICE:
            return [list(each) if isinstance(each, tuple) else each for each in fix.choices]
        case FixKind.MOVED:
            return [fix.to] if fix.to else places(fix)
        case FixKind.COUNT:
            return [int(_figure(fix))]
        case _:
            return [_figure(fix)]


def breaking(fix: Fix) -> float | None:
    """A figure just on the wrong side of the limit; None where nothing is to be less or more."""
    step = 1 if fix.kind is FixKind.COUNT else 1.0
    if fix.least is not None and fix.least >= step:
        return fix.least - step
    if fix.most is not None:
        return fix.most + step
    return None


def _figure(fix: Fix) -> float:
    if fix.least is not None:
        return fix.least
    assert fix.most is not None, fix
    return fix.most


def places(fix: Fix) -> list[dict[str, Any]]:
    """Places along the walls of the room of a box, at its height."""
    box = next(each for each in house().boxes if each.id == fix.path[1])
    room = next(each for each in house().rooms if each.id == box.room)
    height = getattr(box.place, "height_mm", None)
    found = []
    for wall in room.walls:
        for step in range(int(wall.length_mm // STEP_MM)):
            place = {"surface": "wall", "wall": wall.id, "at_mm": step * STEP_MM}
            found.append({**place, "height_mm": height})
    return found

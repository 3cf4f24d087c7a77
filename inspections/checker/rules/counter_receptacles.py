"""Receptacles along kitchen counters, and at islands and peninsulas."""

from collections.abc import Iterator
from math import ceil
from typing import Any, NamedTuple

from ..finding import Finding, Rule, Verdict, Words, rule
from ..floorline import EPSILON, Interval, Space, free_intervals, uncovered
from ..house.boxes import Box, DeviceKind, OnCounter, OnWall
from ..house.rooms import Counter, CounterKind, InterruptionKind
from ..site import Site
from ..words import length, listed, number, plural

NAME = "counter-receptacles"
DIMENSIONS = ("length_mm", "depth_mm")


class Point(NamedTuple):
    """A receptacle by a counter: where it is, whether it counts (None: a fact is missing)."""

    box: Box
    at: float
    counts: bool | None
    why: str = ""


def tell(finding: Finding) -> Words:
    """A counter space or an island, and what serves it."""
    return _tell_space(finding) if "space" in finding.data else _tell_free(finding)


def _tell_space(finding: Finding) -> Words:
    data, imperial = finding.data, finding.imperial
    reach = length(data["reach"], imperial)
    gaps = [f"{length(b - a, imperial)} from {length(a, imperial)}" for a, b in data["uncovered"]]
    working = [
        f"counter space of {length(data['space'], imperial)}",
        *(f"receptacle {box} at {length(at, imperial)} of it" for box, at in data["at"]),
        *(f"receptacle {box} does not count: {why}" for box, why in data["out"]),
        *(f"farther than {reach} from any: {gap}" for gap in gaps),
    ]
    says = {
        Verdict.MEETS: f"No point of this counter is more than {reach} from a receptacle.",
        Verdict.SHORT: f"Counter uncovered for {listed(gaps)} along this space.",
        Verdict.UNKNOWN: f"It depends on {listed(data['missing'])}.",
    }[finding.verdict]
    worst = max((b - a for a, b in data["uncovered"]), default=0)
    figure = f"{length(worst, imperial)} uncovered" if worst else "covered"
    return Words(says, figure, f"{reach} reach", tuple(working), _remedy(finding.verdict))


def _tell_free(finding: Finding) -> Words:
    data = finding.data
    if data["missing"] and finding.verdict is Verdict.UNKNOWN:
        says = f"It depends on {listed(data['missing'])}."
        return Words(says, "not recorded", "", tuple(data["working"]), "Measure and record it.")
    has, asked = plural(data["has"], "receptacle"), plural(data["asked"], "receptacle")
    says = f"This {data['kind']} has {has}; {asked} asked."
    if data["provision"]:
        says = f"This {data['kind']} is left ready for a receptacle to be added."
    working = (*data["working"], *(f"{box} does not count: {why}" for box, why in data["out"]))
    return Words(says, has, f"at least {asked}", working, _remedy(finding.verdict))


def _remedy(verdict: Verdict) -> str:
    return {
        Verdict.SHORT: "Add a receptacle that serves the uncovered counter.",
        Verdict.UNKNOWN: "Measure it and record it.",
    }.get(verdict, "")


@rule(NAME, topic="receptacles", title="Receptacles at counters", tell=tell)
def counter_receptacles(this: Rule, site: Site) -> Iterator[Finding]:
    """Along a wall counter no point may lie farther from a receptacle than the reach.

    Sinks, ranges and the like part a counter into spaces, unless enough work surface runs on
    behind them where the code counts it; the shortest spaces are not asked for. A receptacle
    counts when it stands above the top and no higher than the code allows. Islands and
    peninsulas have rules of their own, by edition.
    """
    book = site.rulebook
    if f"{NAME}.reach_mm" not in book:
        return
    kinds = book.value(f"{NAME}.rooms")
    for counter in site.house.counters:
        if site.rooms[counter.room].kind not in kinds:
            continue
        if counter.kind is CounterKind.WALL:
            yield from _wall_counter(this, site, counter)
        else:
            yield from _free_counter(this, site, counter)


def _wall_counter(this: Rule, site: Site, counter: Counter) -> Iterator[Finding]:
    book = site.rulebook
    reach, least = book.value(f"{NAME}.reach_mm"), book.value(f"{NAME}.min_space_mm")
    points = _points(site, counter)
    whole = sum(stretch.width_mm for stretch in counter.along)
    names = ("reach_mm", "min_space_mm", "max_above_mm", "behind_mm")
    limits = tuple(book[f"{NAME}.{name}"] for name in names if f"{NAME}.{name}" in book)
    cuts, doubtful = _cuts(site, counter)
    for index, (start, end) in enumerate(free_intervals(cuts, whole), 1):
        if end - start < least - EPSILON:
            continue
        space = Space(start, end, counter.id, index)
        here = [p for p in points if start - EPSILON <= p.at <= end + EPSILON]
        data, verdict = _measure(space, here, reach)
        if verdict is Verdict.MEETS and doubtful:
            verdict, data["missing"] = Verdict.UNKNOWN, doubtful
        room = site.rooms[counter.room]
        wall, at = _on_wall(counter, start)
        spot = site.wall_spot(room, wall, at, f"counter {counter.id}", ("along it", start))
        yield Finding(this, f"{counter.id}.{index}", verdict, spot, data, limits)


def _measure(space: Space, here: list[Point], reach: float) -> tuple[dict[str, Any], Verdict]:
    sure = [point.at for point in here if point.counts]
    hoped = [point.at for point in here if point.counts is not False]
    left, at_best = uncovered(space, sure, reach), uncovered(space, hoped, reach)
    verdict = Verdict.MEETS if not left else Verdict.SHORT if at_best else Verdict.UNKNOWN
    shown = at_best if verdict is Verdict.SHORT else left
    return {
        "space": round(space.length, 3),
        "reach": reach,
        "at": [(p.box.id, round(p.at - space.start, 3)) for p in here if p.counts],
        "out": [(p.box.id, p.why) for p in here if p.counts is False],
        "missing": [p.why for p in here if p.counts is None],
        "uncovered": [(round(a - space.start, 3), round(b - space.start, 3)) for a, b in shown],
    }, verdict


def _cuts(site: Site, counter: Counter) -> tuple[list[Interval], list[str]]:
    """What parts the counter, and which depths behind a fixture were never measured."""
    behind = site.rulebook.value(f"{NAME}.behind_mm")
    cuts, doubtful = [], []
    for item in counter.interruptions:
        counted = behind is not None and item.kind in _BEHIND
        if counted and item.behind_mm is None:
            doubtful.append(f"the depth of counter behind the {item.kind.value}")
        if not (counted and item.behind_mm is not None and item.behind_mm >= behind):
            cuts.append((item.at_mm, item.at_mm + item.width_mm))
    return cuts, doubtful


_BEHIND = (InterruptionKind.SINK, InterruptionKind.RANGE, InterruptionKind.COOKTOP)


def _on_wall(counter: Counter, position: float) -> tuple[str, float]:
    for stretch in counter.along:
        if position <= stretch.width_mm + EPSILON:
            return stretch.wall, stretch.at_mm + position
        position -= stretch.width_mm
    last = counter.along[-1]
    return last.wall, last.at_mm + last.width_mm


def _points(site: Site, counter: Counter) -> list[Point]:
    found = []
    start = 0.0
    for stretch in counter.along:
        for box in site.boxes_in[counter.room]:
            place = box.place
            if isinstance(place, OnWall) and place.wall == stretch.wall and _serves(box):
                at = place.at_mm - stretch.at_mm
                if -EPSILON <= at <= stretch.width_mm + EPSILON:
                    found.append(Point(box, start + at, *_height(site, counter, box, place)))
        start += stretch.width_mm
    found += [
        Point(box, box.place.at_mm, True)
        for box in site.boxes_in[counter.room]
        if isinstance(box.place, OnCounter) and box.place.counter == counter.id and _serves(box)
    ]
    return found


def _serves(box: Box) -> bool:
    return any(
        device.kind is DeviceKind.RECEPTACLE
        and device.poles == 1
        and not (device.in_cabinet or device.part_of_equipment or device.dedicated_to)
        for device in box.devices
    )


def _height(site: Site, counter: Counter, box: Box, place: OnWall) -> tuple[bool | None, str]:
    if place.height_mm is None:
        return None, f"the height of {box.id}, which is not recorded"
    if counter.top_mm is None:
        return None, f"the height of counter {counter.id}, which is not recorded"
    above = place.height_mm - counter.top_mm
    most = site.rulebook.value(f"{NAME}.max_above_mm")
    if above < 0:
        return False, "it is below the counter"
    if most is not None and above > most + EPSILON:
        return False, f"it is {length(above, site.imperial)} above the counter"
    return True, ""


def _free_counter(this: Rule, site: Site, counter: Counter) -> Iterator[Finding]:
    book = site.rulebook
    names = (
        "free_min_long_mm",
        "free_min_short_mm",
        "first_m2",
        "more_m2",
        "provision",
        "below_mm",
    )
    limits = tuple(book[f"{NAME}.{name}"] for name in names if f"{NAME}.{name}" in book)
    missing = [f"the {name} of {counter.id}" for name in _unmeasured(counter)]
    working: list[str] = []
    asked: float | None = None
    if not missing:
        asked, working = _asked(site, counter)
        if asked == 0:
            return
    points = _free_points(site, counter)
    has = sum(point.counts is True for point in points)
    missing += [point.why for point in points if point.counts is None]
    provision = counter.provision and bool(book.value(f"{NAME}.provision"))
    data = {
        "kind": counter.kind.value,
        "has": has,
        "asked": asked,
        "provision": provision,
        "missing": missing,
        "out": [(point.box.id, point.why) for point in points if point.counts is False],
        "working": working,
    }
    verdict = _free_verdict(asked, has, provision, missing)
    spot = site.room_spot(
        site.rooms[counter.room], f"{counter.kind.value} {counter.id}", order=(500,)
    )
    yield Finding(this, counter.id, verdict, spot, data, limits)


def _free_verdict(asked: float | None, has: int, provision: bool, missing: list[str]) -> Verdict:
    if provision or (asked is not None and has >= asked):
        return Verdict.MEETS
    return Verdict.UNKNOWN if missing else Verdict.SHORT


def _unmeasured(counter: Counter) -> list[str]:
    return [name[:-3] for name in DIMENSIONS if getattr(counter, name) is None]


def _asked(site: Site, counter: Counter) -> tuple[float, list[str]]:
    """How many receptacles the code asks of an island or peninsula, with the working."""
    value = site.rulebook.value
    sides = sorted((counter.length_mm or 0, counter.depth_mm or 0))
    words = " × ".join(length(side, site.imperial) for side in reversed(sides))
    first, more = value(f"{NAME}.first_m2"), value(f"{NAME}.more_m2")
    if first is not None:
        area = sides[0] * sides[1] / 1e6
        count = 1 + max(0, ceil((area - first) / more - 1e-9))
        rest = f"one for the first {number(first)} m², one for each {number(more)} m² more"
        return count, [f"{words} = {area:.2f} m²: {rest}: {count}"]
    long, short = value(f"{NAME}.free_min_long_mm"), value(f"{NAME}.free_min_short_mm")
    if long is None:
        return 1, [f"{words}: one, or the provision for one"]
    large = sides[1] >= long - EPSILON and sides[0] >= short - EPSILON
    least = f"{length(long, site.imperial)} × {length(short, site.imperial)}"
    return int(large), [f"{words} against {least}: {plural(int(large), 'receptacle')}"]


def _free_points(site: Site, counter: Counter) -> list[Point]:
    below = site.rulebook.value(f"{NAME}.below_mm")
    found = []
    for box in site.boxes_in[counter.room]:
        place = box.place
        if isinstance(place, OnCounter) and place.counter == counter.id and _serves(box):
            counts, why = _near_top(site, box, place, below)
            found.append(Point(box, place.at_mm, counts, why))
    return found


def _near_top(
    site: Site, box: Box, place: OnCounter, below: float | None
) -> tuple[bool | None, str]:
    above = site.rulebook.value(f"{NAME}.max_above_mm")
    if below is None and above is None:
        return True, ""
    if place.above_top_mm is None:
        return None, f"how {box.id} stands to the top, which is not recorded"
    if below is not None and place.above_top_mm < -below - EPSILON:
        return False, f"it is {length(-place.above_top_mm, site.imperial)} below the top"
    if above is not None and place.above_top_mm > above + EPSILON:
        return False, f"it is {length(place.above_top_mm, site.imperial)} above the top"
    return True, ""

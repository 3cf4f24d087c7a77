"""Receptacles along kitchen counters, and at islands and peninsulas."""

from collections.abc import Iterator
from typing import Any

from config.messages.values import Length
from inspections.checker.asking.counters import NAME, CounterLine
from inspections.checker.asking.coverage import LineReceptacle, judge, space_figures
from inspections.checker.asking.islands import at_outer_end, required_range, serving
from inspections.checker.asking.line_sentences import left_out_words, missing_words, tell_line
from inspections.checker.geometry.floor_line import Space
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Counter, CounterKind, Interruption, Room, RoomKind
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode
from ..spot import ALONG_COUNTER, COUNTER, ISLAND, PENINSULA
from ..words import length, listed, plural

ALONG = ("reach_mm", "min_width_mm", "max_above_mm", "behind_mm", "behind_corner_mm", "face_up")
BY_KIND = {
    CounterKind.WALL: COUNTER,
    CounterKind.ISLAND: ISLAND,
    CounterKind.PENINSULA: PENINSULA,
}
FREE = (
    *("free_long_mm", "free_short_mm", "first_m2", "more_m2", "outer_end_mm", "provision"),
    *("max_above_mm", "below_mm", "overhang_mm", "face_up"),
)


def tell(finding: Finding) -> FindingWords:
    """A counter space, an island, a receptacle behind a sink, or a kitchen without counters."""
    data = finding.facts
    if "space_mm" in data:
        return tell_line(finding, "counter space", "Add a receptacle that serves that stretch.")
    if "behind" in data:
        return _tell_behind(finding)
    if "kind" in data:
        return _tell_free(finding)
    return FindingWords(
        "Nobody recorded the counters of this kitchen.",
        "not recorded",
        working=("a kitchen has work surfaces, and none is recorded here",),
        remedy="Record the counters, their fixtures and their receptacles.",
    )


def _tell_behind(finding: Finding) -> FindingWords:
    data, imperial = finding.facts, finding.imperial
    limit = f"more than {length(data['limit'], imperial)}"
    unknown = finding.verdict is Verdict.UNKNOWN
    if unknown:
        figure = "not recorded"
    else:
        figure = length(data["behind"], imperial)
    where = f"Receptacle {data['box']} stands on the wall behind the sink"
    says = f"{where}; how far that wall is from the sink is not recorded."
    if not unknown:
        says = f"{where}, {figure} from it; that takes {limit}."
    remedies = {
        Verdict.SHORT: "Move the receptacle to one side of the sink.",
        Verdict.UNKNOWN: "Measure from the wall to the inside edge of the sink and record it.",
    }
    working = (f"wall to sink {figure}; a receptacle there takes {limit}",)
    return FindingWords(says, figure, limit, working, remedies.get(finding.verdict, ""))


def _tell_free(finding: Finding) -> FindingWords:
    data, imperial = finding.facts, finding.imperial
    parts = []
    for side in data["sides_missing"]:
        parts.append(f"its {side}")
    missing = missing_words(data["missing"]) + parts
    if data["provision_missing"]:
        missing.append("whether a fed outlet is left for a receptacle")
    has, least = plural(data["has"], "receptacle"), plural(data["asked"][0], "receptacle")
    says = f"This {data['kind']} has {has}; it takes {least}."
    if finding.verdict is Verdict.UNKNOWN:
        says = f"Nobody recorded {listed(missing)}."
    elif finding.verdict is Verdict.SHORT and data["has"] >= data["asked"][0]:
        says = "No receptacle stands near enough to the outer end of this peninsula."
    elif data["provision"] and data["has"] < data["asked"][0]:
        says = f"This {data['kind']} is left ready for a receptacle to be added."
    remedies = {
        Verdict.SHORT: "Add a receptacle that serves it.",
        Verdict.UNKNOWN: f"Record {listed(missing)}.",
    }
    return FindingWords(
        says,
        has,
        f"at least {least}",
        (*_free_working(data, imperial), *left_out_words(data["out"], imperial)),
        remedies.get(finding.verdict, ""),
    )


def _free_working(data: Any, imperial: bool) -> Iterator[str]:
    sides = []
    for side in data["sides"]:
        sides.append(length(side, imperial) if side else "not recorded")
    least, most = data["asked"]
    if least == most:
        count = plural(least, "receptacle")
    else:
        count = f"from {least} receptacles up"
    yield f"{data['kind']} {sides[0]} long, {sides[1]} the other way: {count} asked"
    if data["area_m2"] is not None:
        yield (
            f"{data['area_m2']:.2f} m²: one for the first {data['first']:.2f} m², "
            f"one for each {data['more']:.2f} m² or part of it beyond"
        )


@rule(NAME, topic="receptacles", title="Receptacles at counters", tell=tell, scope=Scope.ROOM)
def counter_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Along a wall counter no point may lie farther from a receptacle than the reach.

    Sinks, ranges and the like part a counter into spaces, unless enough work surface runs on
    behind them where the code counts it; the shortest spaces are not asked for. A receptacle
    counts when it stands above the top and no higher than the code allows; where the code
    keeps receptacles from behind sinks, one that stands there is a finding of its own.
    Islands and peninsulas have rules of their own, by edition.
    """
    book = site.rulebook
    if f"{NAME}.reach_mm" not in book:
        return
    for room in site.house.rooms:
        if room.kind not in book.value(f"{NAME}.rooms"):
            continue
        counters = site.counters_in[room.id]
        if room.kind is RoomKind.KITCHEN and not counters:
            limits = (book[f"{NAME}.reach_mm"],)
            yield Finding(this, room.id, Verdict.UNKNOWN, site.room_spot(room), {}, limits)
        for counter in counters:
            along = counter.kind is CounterKind.WALL
            yield from (_along if along else _free)(this, site, room, counter)


def _along(this: Rule, site: HouseByCode, room: Room, counter: Counter) -> Iterator[Finding]:
    book, line = site.rulebook, CounterLine(counter, site.rulebook)
    reach, least = book.value(f"{NAME}.reach_mm"), book.value(f"{NAME}.min_width_mm")
    outlets = list(line.outlets(site.receptacles_in[room.id]))
    unplaced = []
    for outlet in outlets:
        if outlet.reason and outlet.reason[0] == "along":
            unplaced.append((outlet.reason[0], outlet.box))
    limits = _limits(book, ALONG)
    for space in line.spaces():
        if space.length < least - EPSILON:
            continue
        here = _outlets_in(space, outlets)
        verdict, gaps = judge(space, here, reach, least - EPSILON)
        data = space_figures(space, here, gaps, reach, line.wall_at)
        data["missing"] = list(dict.fromkeys([*data["missing"], *unplaced]))
        if verdict is Verdict.SHORT and unplaced:
            verdict = Verdict.UNKNOWN
        wall, at = data["start"]
        spot = site.wall_spot(
            room, wall, at, COUNTER(counter=counter.id), ALONG_COUNTER(length=Length(space.start))
        )
        subject = f"{counter.id}.{space.number}"
        yield Finding(this, subject, verdict, spot, data, limits)
    for outlet, sink in line.behind_sinks(outlets):
        yield from _behind(this, site, counter, outlet, sink)


def _outlets_in(space: Space, outlets: list[LineReceptacle]) -> list[LineReceptacle]:
    here = []
    for outlet in outlets:
        if space.start - EPSILON <= outlet.at <= space.end + EPSILON:
            here.append(outlet)
    return here


def _behind(
    this: Rule, site: HouseByCode, counter: Counter, outlet: LineReceptacle, sink: Interruption
) -> Iterator[Finding]:
    limit = site.rulebook.get(f"{NAME}.behind_sink_mm")
    if limit is None or (outlet.counts is False and outlet.reason != ("face-up", None)):
        return
    behind = sink.behind_mm
    verdict = Verdict.UNKNOWN
    if behind is not None:
        verdict = Verdict.SHORT
        if behind > limit.value:
            verdict = Verdict.MEETS
    data = {"box": outlet.box, "behind": behind, "limit": limit.value}
    spot = site.box_spot(site.boxes[outlet.box])
    yield Finding(this, f"{counter.id}/{outlet.box}", verdict, spot, data, (limit,))


def _free(this: Rule, site: HouseByCode, room: Room, counter: Counter) -> Iterator[Finding]:
    book = site.rulebook
    least, most = required_range(counter, book)
    if most == 0:
        return
    outlets = list(serving(counter, site.receptacles_in[room.id], book))
    provided: bool | None = False
    if book.value(f"{NAME}.provision"):
        provided = counter.provision
    verdict = _served(site, counter, outlets, (least, most))
    if verdict is not Verdict.MEETS and provided is not False:
        verdict = Verdict.UNKNOWN
        if provided:
            verdict = Verdict.MEETS
    data = _free_data(site, counter, outlets) | {
        "asked": (least, most),
        "provision": bool(provided),
        "provision_missing": provided is None,
    }
    spot = site.free_spot(room, BY_KIND[counter.kind](counter=counter.id))
    yield Finding(this, counter.id, verdict, spot, data, _limits(book, FREE))


def _served(
    site: HouseByCode, counter: Counter, outlets: list[LineReceptacle], bounds: tuple[int, int]
) -> Verdict:
    least, most = bounds
    sure = possible = 0
    sure_at_end = possible_at_end = False
    for outlet in outlets:
        if outlet.counts is False:
            continue
        near = _at_end(site, counter, outlet)
        possible += 1
        possible_at_end |= near is not False
        if outlet.counts:
            sure += 1
            sure_at_end |= bool(near)
    if sure >= most and sure_at_end:
        return Verdict.MEETS
    if possible < least or (least and not possible_at_end):
        return Verdict.SHORT
    return Verdict.UNKNOWN


def _at_end(site: HouseByCode, counter: Counter, outlet: LineReceptacle) -> bool | None:
    if counter.kind is not CounterKind.PENINSULA:
        return True
    return at_outer_end(counter, site.boxes[outlet.box], site.rulebook)


def _free_data(
    site: HouseByCode, counter: Counter, outlets: list[LineReceptacle]
) -> dict[str, Any]:
    book, sides = site.rulebook, (counter.length_mm, counter.depth_mm)
    first = book.value(f"{NAME}.first_m2")
    area = None
    if first is not None and sides[0] and sides[1]:
        area = round(sides[0] * sides[1] / 1e6, 4)
    sides_missing = []
    for name, side in zip(("length", "depth"), sides, strict=True):
        if side is None:
            sides_missing.append(name)
    at = []
    for outlet in outlets:
        if outlet.counts:
            at.append((outlet.box, outlet.at, outlet.height))
    return {
        "kind": counter.kind.value,
        "sides": sides,
        "sides_missing": sides_missing,
        "area_m2": area,
        "first": first,
        "more": book.value(f"{NAME}.more_m2"),
        "has": len(at),
        "at": at,
        **_out_and_missing(site, counter, outlets),
    }


def _out_and_missing(
    site: HouseByCode, counter: Counter, outlets: list[LineReceptacle]
) -> dict[str, Any]:
    """The outlets that do not count and why, and what is missing to say it of the rest."""
    out = []
    uncounted = []
    unplaced = []
    for outlet in outlets:
        if outlet.counts:
            if _at_end(site, counter, outlet) is None:
                unplaced.append(("along", outlet.box))
        elif outlet.reason and outlet.counts is False:
            out.append((outlet.box, *outlet.reason))
        elif outlet.reason:
            uncounted.append((outlet.reason[0], outlet.box))
    return {"out": out, "missing": uncounted + unplaced}


def _limits(book: Rulebook, names: tuple[str, ...]) -> tuple[Limit, ...]:
    limits = []
    for name in names:
        if limit := book.get(f"{NAME}.{name}"):
            limits.append(limit)
    return tuple(limits)

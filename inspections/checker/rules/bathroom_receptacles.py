"""A receptacle near the basin of each bathroom."""

from collections.abc import Iterator, Sequence
from typing import Any

from inspections.checker.asking.fixtures import fixture_words, placed, room_missing
from inspections.checker.asking.receptacles import for_general_use
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, OnCounter, OnWall
from ..house.fixtures import Fixture, FixtureKind
from ..house.rooms import Room
from ..measures import Comparator, Tape, held_in
from ..rulebook import Rulebook
from ..site import HouseByCode
from ..words import length, listed

NAME = "bathroom-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The basin, the receptacles and how far they are from it."""
    data, imperial = finding.facts, finding.imperial
    if "basins" not in data:
        return room_missing("basins, tubs and showers")
    basins = listed(f"basin {basin}" for basin in data["basins"])
    limit = f"within {length(data['within'], imperial)}"
    missing = list(data["missing"])
    distances = []
    for *_, at in [*data["near"], *data["out"]]:
        distances.append(at)
    nearest = min(distances, default=None)
    if nearest is None:
        figure = "none measured"
    else:
        figure = length(nearest, imperial)
    says = {
        Verdict.MEETS: f"A receptacle is {limit} of {basins}.",
        Verdict.SHORT: f"No receptacle is {limit} of {basins}.",
        Verdict.LOOK: f"A wall stands between {basins} and the nearest receptacle.",
        Verdict.UNKNOWN: f"Nobody recorded {listed(missing)}.",
    }[finding.verdict]
    if data["low"] and finding.verdict is Verdict.SHORT:
        says = f"The receptacle near {basins} is too low to serve it."
    remedy = {
        Verdict.SHORT: "Add or move a receptacle beside the basin.",
        Verdict.LOOK: "Measure round the wall, as a cord would run.",
        Verdict.UNKNOWN: f"Record {listed(missing)}.",
    }.get(finding.verdict, "")
    return FindingWords(says, figure, limit, tuple(_working(data, imperial)), remedy)


def _working(data: Any, imperial: bool) -> Iterator[str]:
    yield f"basins: {listed(data['basins'])}"
    for box, basin, at in data["near"]:
        yield f"receptacle {box}: {length(at, imperial)} from basin {basin}"
    for box, basin, at in data["out"]:
        yield f"receptacle {box}: {length(at, imperial)} from basin {basin}, too far"
    for box, below in data["low"]:
        yield f"receptacle {box} does not count: {length(below, imperial)} below the basin's top"
    for box, basin, at in data["round"]:
        yield f"receptacle {box}: {length(at, imperial)} from basin {basin} through a wall"
    for fact in data["missing"]:
        yield f"not recorded: {fact}"


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles at basins",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(
        Tape(
            "from the basin to the receptacle", Comparator.AT_MOST, "within_mm", held_in("within")
        ),
    ),
)
def bathroom_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A bathroom or washroom with a basin has a receptacle near it.

    One code asks for one near each basin and not too far below its top, another for one near
    any of them. Distances are measured on the plan from the basin's outer edge.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    for room in site.house.rooms:
        if room.kind not in book.value(f"{NAME}.rooms"):
            continue
        if room.fixtures is None:
            limits = (book[f"{NAME}.within_mm"],)
            yield Finding(this, room.id, Verdict.UNKNOWN, site.room_spot(room), {}, limits)
            continue
        for group in _groups(book, room.fixtures):
            yield _group(this, site, room, group)


def _groups(book: Rulebook, fixtures: Sequence[Fixture]) -> list[list[Fixture]]:
    """The basins that one receptacle may serve together: each by itself, or all of them."""
    basins = []
    for fixture in fixtures:
        if fixture.kind is FixtureKind.BASIN:
            basins.append(fixture)
    if not basins:
        return []
    if not book.value(f"{NAME}.each_basin"):
        return [basins]
    groups = []
    for basin in basins:
        groups.append([basin])
    return groups


def _group(this: Rule, site: HouseByCode, room: Room, basins: Sequence[Fixture]) -> Finding:
    """Whether a receptacle serves any basin of the group."""
    book = site.rulebook
    data = _figures(site, room, basins)
    verdict = Verdict.SHORT
    if data["near"]:
        verdict = Verdict.MEETS
    elif data["missing"]:
        verdict = Verdict.UNKNOWN
    elif data["round"]:
        verdict = Verdict.LOOK
    subject = room.id
    if len(basins) == 1 and book.value(f"{NAME}.each_basin"):
        subject = f"{room.id}/{basins[0].id}"
    limits = []
    for name in ("within_mm", "each_basin", "below_mm"):
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    return Finding(
        this, subject, verdict, fixture_words(site, room, basins[0]), data, tuple(limits)
    )


def _figures(site: HouseByCode, room: Room, basins: Sequence[Fixture]) -> dict[str, Any]:
    """Every receptacle of the room by how it stands to each basin."""
    data: dict[str, Any] = {
        "basins": [basin.id for basin in basins],
        "within": site.rulebook.value(f"{NAME}.within_mm"),
        "near": [],
        "out": [],
        "low": [],
        "round": [],
        "missing": [],
    }
    for box in site.receptacles_in[room.id]:
        if for_general_use(box):
            for basin in basins:
                _serves(site, room, box, basin, data)
    data["missing"] = list(dict.fromkeys(data["missing"]))
    return data


def _serves(site: HouseByCode, room: Room, box: Box, basin: Fixture, data: dict[str, Any]) -> None:
    """Put the receptacle where it belongs: near, out, too low, behind a wall, or missing."""
    distance, walled, missing = placed(site, room, box, basin)
    if missing or distance is None:
        data["missing"] += missing
    elif distance > data["within"] + EPSILON:
        data["out"].append((box.id, basin.id, round(distance, 3)))
    else:
        below, unknown = _below(site.rulebook, box, basin)
        if unknown:
            data["missing"].append(unknown)
        elif below is not None:
            data["low"].append((box.id, below))
        else:
            data["round" if walled else "near"].append((box.id, basin.id, round(distance, 3)))


def _below(book: Rulebook, box: Box, basin: Fixture) -> tuple[float | None, str]:
    """How far below the basin's top it is, when that is too far; and what is missing to say."""
    limit, place = book.value(f"{NAME}.below_mm"), box.place
    if limit is None or isinstance(place, OnCounter):
        return None, ""
    height: float | None = 0.0
    if isinstance(place, OnWall):
        height = place.height_mm
    if height is None:
        return None, f"how high box {box.id} stands"
    if basin.top_mm is None:
        return None, f"how high basin {basin.id} is"
    below = basin.top_mm - height
    if below > limit + EPSILON:
        return (round(below, 3), "")
    return (None, "")

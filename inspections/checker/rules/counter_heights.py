"""Receptacles at counters as a shop wants them: all at one height, of one rating."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.counters import CounterLine
from inspections.checker.asking.fixtures import height_of
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.rooms import CounterKind
from ..site import HouseByCode
from ..words import length, listed

NAME = "counter-heights"


def tell(finding: Finding) -> FindingWords:
    """The receptacle's height and rating against the shop's."""
    data, imperial = finding.facts, finding.imperial
    height = data["height"]
    if height is None:
        figure = "height not recorded"
    else:
        figure = f"{length(height, imperial)} high"
    if data["amperes"] is None:
        rated = "rating not recorded"
    else:
        rated = f"{data['amperes']:g} A"
    limit = f"{length(data['least'], imperial)} to {length(data['most'], imperial)} high"
    limit += f", {data['least_a']:g} A"
    says = {
        Verdict.MEETS: "The receptacle is as the shop wants it.",
        Verdict.SHORT: f"The receptacle is {figure}, {rated}; {limit} is wanted.",
        Verdict.UNKNOWN: f"Nobody recorded {listed(data['missing'])}.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Set the box at that height, for a receptacle of that rating.",
        Verdict.UNKNOWN: f"Record {listed(data['missing'])}.",
    }.get(finding.verdict, "")
    return FindingWords(
        says, f"{figure}, {rated}", limit, (f"{figure}, {rated}; {limit} asked",), remedy
    )


@rule(NAME, topic="receptacles", title="Counter receptacles alike", tell=tell, scope=Scope.ROOM)
def counter_heights(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles above a wall counter stand at one height and have one rating.

    No code asks it. A shop that wants it amends `asked`, and the height and rating with it.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.asked"):
        return
    limits = tuple(book.limits_of(NAME))
    for counter in site.house.counters:
        if counter.kind is not CounterKind.WALL:
            continue
        line = CounterLine(counter, book)
        for outlet in line.outlets(site.receptacles_in[counter.room]):
            if outlet.counts is not False:
                box = site.boxes[outlet.box]
                verdict, data = _judge(site, box)
                yield Finding(this, box.id, verdict, site.box_spot(box), data, limits)


def _judge(site: HouseByCode, box: Box) -> tuple[Verdict, dict[str, Any]]:
    book, height = site.rulebook, height_of(box)
    least, most = book.value(f"{NAME}.least_mm"), book.value(f"{NAME}.most_mm")
    least_a = book.value(f"{NAME}.least_a")
    ratings = []
    for d in box.devices:
        if d.kind is DeviceKind.RECEPTACLE:
            ratings.append(d.amperes)
    known = []
    for each in ratings:
        if each is not None:
            known.append(each)
    amperes = min(known, default=None)
    missing = ["how high it stands"] * (height is None)
    missing += ["what it is rated"] * (len(known) < len(ratings))
    off = height is not None and not least - EPSILON <= height <= most + EPSILON
    weak = amperes is not None and amperes < least_a
    verdict = Verdict.MEETS
    if missing:
        verdict = Verdict.UNKNOWN
    if off or weak:
        verdict = Verdict.SHORT
    data: dict[str, Any] = {"height": height, "amperes": amperes, "missing": missing}
    return verdict, data | {"least": least, "most": most, "least_a": least_a}

"""Cables bundled, and what the bundle leaves of their ampacity for their breakers."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from inspections.checker.asking.derating import Derated, Derating, carrying
from inspections.checker.asking.loose_points import DUST

from ..asking.visual import PartKind, part_text
from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.cables import Bundle, Cable, Hole
from ..rulebook import Limit
from ..site import HouseByCode
from ..spot import CABLE
from ..words import length, listed, number, plural

NAME = "bundling"
MISSING = {
    "length": "how far the cables run together",
    "apart": "whether the cables are kept apart",
    "sealed": "whether the hole will be filled",
    "carrying": "how many of the conductors carry current",
    "breaker": "which circuit the cable belongs to",
    "size": "an ampacity for its size",
}


def tell(finding: Finding) -> FindingWords:
    """The ampacity after adjustment against the breaker, step by step."""
    data = finding.facts
    found: Derated | None = data["derated"]
    missing = []
    for name in data["missing"]:
        missing.append(MISSING[name])
    where = data["where"]
    if not data["counts"]:
        says = f"The cables of {where} are apart, or too short a way together to count."
        return FindingWords(says, "not bundled", _together(finding), (says,))
    if found is None:
        says = f"Nobody recorded {listed(missing)}."
        return FindingWords(
            says, "not recorded", _together(finding), (says,), f"Record {missing[0]}."
        )
    figure = f"{number(found.breaker)} A"
    breaker = f"{number(data['breaker'])} A"
    says = {
        Verdict.MEETS: f"In {where} {data['awg']} AWG may have {figure}; its breaker is {breaker}.",
        Verdict.SHORT: f"In {where} {data['awg']} AWG may have {figure}, and not {breaker}.",
        Verdict.UNKNOWN: f"Nobody recorded {listed(missing)}.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Part the cables, use a larger size or a smaller breaker.",
        Verdict.UNKNOWN: f"Record {listed(missing)}, or part the cables.",
    }.get(finding.verdict, "")
    return FindingWords(says, breaker, f"at most {figure}", tuple(_working(finding, found)), remedy)


def _together(finding: Finding) -> str:
    return f"bundled over {length(finding.facts['over_mm'], finding.imperial)}"


def _working(finding: Finding, found: Derated) -> Iterator[str]:
    data = finding.facts
    yield f"in {data['where']}: {plural(found.together, 'current-carrying conductor')} together"
    yield (
        f"{data['awg']} AWG at 90 °C: {number(found.at_90)} A × {number(found.percent)} % = "
        f"{number(found.at_90 * found.percent / 100)} A"
    )
    yield f"held to {number(found.at_60)} A at 60 °C: {number(found.ampacity)} A"
    up = "no breaker above"
    if data["next_up"]:
        up = "the next standard breaker above"
    yield f"{up} that will do: {number(found.breaker)} A"
    for name in data["missing"]:
        worst = "; the same either way"
        if finding.verdict is Verdict.UNKNOWN:
            worst = ""
        yield f"not recorded: {MISSING[name]}{worst}"


@rule(
    NAME, topic="cables", title="Bundled cables and their breakers", tell=tell, scope=Scope.WIRING
)
def bundling(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Cables that run bundled warm one another, and their ampacity falls with their number.

    It counts from a length that the code gives, and where the code says so in a hole that will
    be filled, with more than so many cables. The ampacity at 90 °C is adjusted and then held to
    that at 60 °C; the breaker may not be larger than it lets be. A breaker of the next standard
    size above will do unless the circuit has several receptacles.
    """
    book = site.rulebook
    if f"{NAME}.percent_from" not in book:
        return
    limits = tuple(book.limits_of(NAME))
    judge = _Judge(site, limits)
    for bundle in site.house.bundles:
        yield from _findings(this, site, bundle, judge)
    if judge.sealed is not None:
        for hole in site.house.holes:
            if len(judge.power(hole.cables)) > judge.sealed and hole.sealed is not False:
                yield from _findings(this, site, hole, judge)


def _receptacles(boxes: Iterable[Box]) -> Counter[str]:
    """How many receptacles are on each circuit; a split one is on two."""
    count: Counter[str] = Counter()
    for box in boxes:
        for device in box.devices:
            if device.kind is DeviceKind.RECEPTACLE:
                count.update(filter(None, (device.circuit, device.second_circuit)))
    return count


class _Judge:
    """The tables and the circuits, read once."""

    def __init__(self, site: HouseByCode, limits: tuple[Limit, ...]) -> None:
        self.limits = limits
        values = {}
        for limit in limits:
            values[limit.name.partition(".")[2]] = limit.value
        self.over: float = values["length_mm"]
        self.at_length: bool = values["at_length"]
        self.sealed: int | None = values.get("sealed_cables")
        self.table = Derating(values)
        self.cables = {c.id: c for c in site.house.cables if c.kind.carries_power}
        self.breakers = {circuit.id: circuit.breaker_a for circuit in site.house.circuits}
        self.receptacles = _receptacles(site.house.boxes)

    def power(self, names: Sequence[str]) -> list[Cable]:
        """The power cables among these, each once."""
        power: list[Cable] = []
        for name in dict.fromkeys(names):
            if name in self.cables:
                power.append(self.cables[name])
        return power

    def counts(self, seen: Bundle | Hole) -> tuple[bool | None, str]:
        """Whether the cables count as bundled, and what is missing to say so."""
        if isinstance(seen, Hole):
            if seen.sealed is None:
                return (None, "sealed")
            return (True, "")
        if seen.apart:
            return False, ""
        if seen.length_mm is not None:
            beyond = seen.length_mm > self.over + DUST
            near = abs(seen.length_mm - self.over) <= DUST
            if not (beyond or (near and self.at_length)):
                return False, ""
        if seen.apart is None:
            return None, "apart"
        if seen.length_mm is None:
            return (None, "length")
        return (True, "")


def _findings(
    this: Rule, site: HouseByCode, seen: Bundle | Hole, judge: _Judge
) -> Iterator[Finding]:
    cables = judge.power(seen.cables)
    least, most = carrying(cables)
    if judge.table.percent(most) == 100:
        return
    noun = "bundle"
    if isinstance(seen, Hole):
        noun = "hole"
    prefix = ""
    if noun == "hole":
        prefix = "hole/"
    counts, doubt = judge.counts(seen)
    for cable in cables:
        verdict, data = _verdict(cable, least, most, counts, doubt, judge)
        data |= {"where": f"{noun} {seen.id}", "over_mm": judge.over, "counts": counts is not False}
        spot = site.part_spot(
            site.rooms[seen.room], part_text(PartKind(noun), seen.id), CABLE(cable=cable.id)
        )
        yield Finding(this, f"{prefix}{seen.id}/{cable.id}", verdict, spot, data, judge.limits)


def _verdict(
    cable: Cable, least: int, most: int, counts: bool | None, doubt: str, judge: _Judge
) -> tuple[Verdict, dict[str, Any]]:
    circuit, awg = cable.circuit or "", cable.awg or ""
    breaker = judge.breakers.get(circuit)
    next_up = judge.receptacles[circuit] <= 1
    data: dict[str, Any] = {
        "awg": awg, "breaker": breaker, "next_up": next_up, "derated": None, "missing": [],
    }  # fmt: skip
    if counts is False:
        return Verdict.MEETS, data
    if breaker is None:
        return Verdict.UNKNOWN, data | {"missing": ["breaker"]}
    if awg not in judge.table.at_90:
        return Verdict.UNKNOWN, data | {"missing": ["size"]}
    worst = judge.table.of(awg, most, next_up=next_up)
    best = judge.table.of(awg, least, next_up=next_up)
    if doubt:
        data["missing"].append(doubt)
    if least < most and best.breaker != worst.breaker:
        data["missing"].append("carrying")
    verdict = _against(breaker, best, worst, counts)
    data["derated"] = worst
    if verdict is Verdict.SHORT:
        data["derated"] = best
    return verdict, data


def _against(breaker: float, best: Derated, worst: Derated, counts: bool | None) -> Verdict:
    """The breaker against what the cable carries at the worst and at the best."""
    if breaker <= worst.breaker + DUST:
        return Verdict.MEETS
    if counts and breaker > best.breaker + DUST:
        return Verdict.SHORT
    return Verdict.UNKNOWN

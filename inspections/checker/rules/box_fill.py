"""Box fill, drawn from the cables that enter each box and what is inside it."""

from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple

from ..finding import Finding, Rule, Verdict, Words, rule
from ..house.boxes import Box, Clamps, Device, DeviceKind
from ..rulebook import Limit
from ..site import Site
from ..wiring import Entry
from ..words import number, volume

STRAPPED = frozenset(
    {
        DeviceKind.RECEPTACLE,
        DeviceKind.SWITCH,
        DeviceKind.DIMMER,
        DeviceKind.FAN_CONTROL,
        DeviceKind.THERMOSTAT,
        DeviceKind.DISCONNECT,
    }
)


class Line(NamedTuple):
    """One line of the sum: so many allowances of so much, by the limit of that name."""

    what: str
    times: float
    each_ml: float
    limit: str = "volumes_ml"


def tell(finding: Finding) -> Words:
    """The sum against the box, line by line."""
    data, imperial = finding.data, finding.imperial
    working = [
        f"{what}: {number(count)} × {each:,.1f} mL = {count * each:,.1f} mL"
        for what, count, each, _ in data["lines"]
    ]
    needed = volume(data["needed_ml"], imperial)
    working.append(f"in all {needed}")
    has = volume(data["has_ml"], imperial) if data["has_ml"] else "not recorded"
    working.append(f"the box holds {has}")
    working.extend(data["assumed"])
    says = {
        Verdict.MEETS: f"The box holds {has}; its fill is {needed}.",
        Verdict.SHORT: f"The fill is {needed}, more than the {has} of the box.",
        Verdict.UNKNOWN: f"The fill is {needed} at the most; {'; '.join(data['missing'])}.",
        Verdict.LOOK: f"The table has no volume for {data['beyond']} AWG: size this box by eye.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: f"Change or extend the box to hold at least {needed}, or take cables out.",
        Verdict.UNKNOWN: "Record what is missing.",
    }.get(finding.verdict, "")
    return Words(says, needed, has, tuple(working), remedy)


@rule("box-fill", topic="boxes", title="Box fill", tell=tell)
def box_fill(this: Rule, site: Site) -> Iterator[Finding]:
    """Every box must be large enough for the conductors that enter it and what it holds.

    Conductors that end or pass are counted by size; then bonding conductors, clamps, studs,
    wire connectors and straps by the allowances of the code. A device deeper than the code's
    threshold takes a volume by its depth instead where the code says so.
    """
    book = site.rulebook
    if "box-fill.volumes_ml" not in book:
        return
    limits = {limit.name.split(".")[1]: limit for limit in book.limits_of("box-fill")}
    count = _Count({name: limit.value for name, limit in limits.items()})
    for box in site.house.boxes:
        entries = site.wiring.power_at(box.id)
        if entries or any(device.kind in STRAPPED for device in box.devices):
            yield _finding(this, site, box, entries, count, limits)


def _finding(
    this: Rule,
    site: Site,
    box: Box,
    entries: list[Entry],
    count: "_Count",
    limits: dict[str, Limit],
) -> Finding:
    beyond = next((e.cable.awg for e in entries if e.cable.awg not in count.each), None)
    if beyond:
        facts = {"lines": [], "needed_ml": 0, "has_ml": box.volume_ml, "beyond": beyond}
        facts |= {"missing": (), "assumed": ()}
        volumes = (limits["volumes_ml"],)
        return Finding(this, box.id, Verdict.LOOK, site.box_spot(box), facts, volumes)
    has = box.volume_ml or count.stock.get(box.stock or "")
    total = has + box.added_volume_ml if has else None
    sure, doubt = count.lines(box, entries)
    least = _sum(sure)
    most = least + _sum(doubt)
    missing = _missing(entries, total, doubt)
    verdict, lines = Verdict.UNKNOWN, [*sure, *doubt]
    assumed: tuple[str, ...] = ()
    if total is not None and entries:
        if least > total + 1e-6:
            verdict, lines = Verdict.SHORT, sure
        elif most <= total + 1e-6:
            verdict = Verdict.MEETS
            assumed = tuple(f"{fault}; counted at its most" for fault in missing)
    data: dict[str, Any] = {
        "lines": lines,
        "needed_ml": _sum(lines),
        "has_ml": total,
        "missing": missing if verdict is Verdict.UNKNOWN else (),
        "assumed": assumed,
        "beyond": None,
    }
    used = dict.fromkeys(("volumes_ml", *(line.limit for line in lines)))
    rests_on = tuple(limits[name] for name in used)
    return Finding(this, box.id, verdict, site.box_spot(box), data, rests_on)


def _sum(lines: list[Line]) -> float:
    return round(sum(line.times * line.each_ml for line in lines), 6)


def _missing(entries: list[Entry], total: float | None, doubt: list[Line]) -> tuple[str, ...]:
    faults = []
    if total is None:
        faults.append("the volume of the box is not recorded")
    if not entries:
        faults.append("no cable is recorded at the box")
    faults.extend(f"{line.what} not recorded" for line in doubt)
    return tuple(faults)


class _Count:
    """The allowances of one code, applied to a box."""

    def __init__(self, values: dict[str, Any]) -> None:
        self.values = values
        self.each: dict[str, float] = values["volumes_ml"]
        self.stock: dict[str, float] = values.get("stock_ml", {})

    def lines(self, box: Box, entries: list[Entry]) -> tuple[list[Line], list[Line]]:
        """What certainly counts, and what would count if a missing fact went the worst way."""
        if not entries:
            return [], []
        largest = max((entry.cable.awg for entry in entries), key=self._ml)
        lines = self._conductors(entries)
        lines += self._bonding(entries)
        lines += self._straps(box, largest)
        lines += self._fittings(box, largest)
        return lines, self._doubts(box, entries, largest)

    def _ml(self, awg: str | None) -> float:
        return self.each[awg or ""]

    def _conductors(self, entries: list[Entry]) -> list[Line]:
        ending: Counter[str] = Counter()
        passing: Counter[str] = Counter()
        looped: Counter[str] = Counter()
        loop_mm = self.values.get("loop_mm")
        for cable, passes, loop in ((e.cable, e.passes, e.loop_mm) for e in entries):
            kind = ending if not passes else passing
            if passes and loop_mm is not None and loop >= loop_mm:
                kind = looped
            kind[cable.awg or ""] += cable.insulated
        lines = [Line(f"{awg} AWG ending here", n, self._ml(awg)) for awg, n in ending.items()]
        lines += [
            Line(f"{awg} AWG passing through", n, self._ml(awg)) for awg, n in passing.items()
        ]
        each = self.values.get("loop", 1)
        lines += [
            Line(f"{awg} AWG looped", each * n, self._ml(awg), "loop") for awg, n in looped.items()
        ]
        return lines

    def _bonding(self, entries: list[Entry]) -> list[Line]:
        first = self.values.get("bonding_first")
        number_of = sum(entry.cable.bonding for entry in entries)
        if first is None or not number_of:
            return []
        sizes = [e.cable.bonding_awg or e.cable.awg for e in entries if e.cable.bonding]
        largest = max(sizes, key=self._ml)
        lines = [
            Line(
                f"bonding conductors, largest {largest} AWG",
                first,
                self._ml(largest),
                "bonding_first",
            )
        ]
        each, free = self.values.get("bonding_each"), self.values.get("bonding_free", 0)
        if each and number_of > free:
            more = number_of - free
            what = f"{more} bonding beyond {free}"
            lines.append(Line(what, each * more, self._ml(largest), "bonding_each"))
        return lines

    def _straps(self, box: Box, largest: str | None) -> list[Line]:
        return [self._strap(device, largest) for device in box.devices if device.kind in STRAPPED]

    def _strap(self, device: Device, largest: str | None) -> Line:
        deep = self.values.get("deep_mm")
        if deep is not None and device.depth_mm is not None and device.depth_mm > deep:
            what = f"{device.kind.value} {number(device.depth_mm)} mm deep"
            return Line(what, device.depth_mm, self.values["deep_ml_per_mm"], "deep_mm")
        gangs = device.gangs if self.values.get("strap_by_gang") else 1
        each = self._ml(device.awg or largest)
        what = f"{device.kind.value} on its strap"
        return Line(what, self.values["strap"] * gangs, each, "strap")

    def _fittings(self, box: Box, largest: str | None) -> list[Line]:
        each = self._ml(largest)
        lines = []
        if "clamps" in self.values and box.clamps is Clamps.INTERNAL:
            lines.append(Line("internal clamps", self.values["clamps"], each, "clamps"))
        stud = self.values.get("stud", 0)
        studs = box.studs + box.hickeys
        if studs and stud:
            counted = 1 if self.values.get("studs_together") else studs
            lines.append(Line("studs and hickeys", stud * counted, each, "stud"))
        pairs = (box.connectors or 0) // 2
        if pairs and "connector_pair" in self.values:
            count = self.values["connector_pair"] * pairs
            lines.append(Line("pairs of wire connectors", count, each, "connector_pair"))
        return lines

    def _doubts(self, box: Box, entries: list[Entry], largest: str | None) -> list[Line]:
        each = self._ml(largest)
        lines = []
        if "clamps" in self.values and box.clamps is None:
            lines.append(Line("the kind of clamps is", self.values["clamps"], each, "clamps"))
        if "connector_pair" in self.values and box.connectors is None:
            ends = sum(e.cable.insulated for e in entries if not e.passes)
            pairs = (ends + box.pigtails) // 2 // 2
            if pairs:
                what = "the number of wire connectors is"
                count = self.values["connector_pair"] * pairs
                lines.append(Line(what, count, each, "connector_pair"))
        return lines

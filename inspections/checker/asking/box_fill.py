"""What takes room in a box, by the allowances of one code.

Lines are either certain or in doubt. Certain ones add up to the least that the fill can be;
with the ones in doubt it is the most, and a doubt without an end has an infinite count.
"""

from collections.abc import Mapping, Sequence
from math import inf
from typing import Any, NamedTuple

from inspections.checker.asking.box_fill_facts import Allowance, FillLacking, LineKind, Unknown
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.graph.wiring import Entry
from inspections.checker.house.boxes import Box, Clamps, Device, DeviceKind
from inspections.checker.rulebook import Rulebook

NAME = "box-fill"


LIMITS = {LineKind.LOOPED: "loop"}
"""The limit beside a conductor's own volume, by what the conductor does in the box."""
ON_STRAP = (
    DeviceKind.RECEPTACLE,
    DeviceKind.SWITCH,
    DeviceKind.DIMMER,
    DeviceKind.FAN_CONTROL,
    DeviceKind.THERMOSTAT,
    DeviceKind.DISCONNECT,
)


class Sum(NamedTuple):
    """The lines of a box added up: `least` from the certain ones, `most` from all, in mL."""

    sure: list[Allowance]
    doubts: list[Allowance]
    least: float
    most: float
    beyond: str = ""
    """A size of conductor for which the code has no volume; then there is no sum."""

    @property
    def missing(self) -> list[FillLacking]:
        """What is not recorded yet, once for each doubt."""
        missing = []
        for line in self.doubts:
            missing.append(FillLacking(Unknown(line.kind.value), line.cable, line.device))
        return missing


class Fill:
    """The allowances of one code, read from its rulebook once.

    Boxes of a house repeat one another, so a sum is kept by the facts that it rests on.
    """

    def __init__(self, book: Rulebook, depths: Mapping[DeviceKind, float]) -> None:
        limits = book.limits_of(NAME)
        self.values = {limit.name.removeprefix(f"{NAME}."): limit.value for limit in limits}
        self.depths = depths
        self.loop_mm: float = self.values.get("loop_mm", inf) - EPSILON
        self.each: dict[str, float] = {}
        for name, value in self.values.items():
            if name.startswith("volume_"):
                self.each[name.removeprefix("volume_").removesuffix("_ml")] = value
        self._sums: dict[Any, Sum] = {}
        self.largest_known = max(self.each, key=self.each.__getitem__, default="")

    def stock(self, name: str | None) -> tuple[float | None, str]:
        """The volume of a standard box and the limit it stands in."""
        for table in ("stock_ml", "stock_more_ml"):
            if name in self.values.get(table, {}):
                return self.values[table][name], table
        return None, ""

    def _beyond(self, box: Box, entries: Sequence[Entry]) -> str:
        """A size of conductor at the box for which the code has no volume, if there is one."""
        sizes: set[str | None] = set()
        bonding = "bonding_first" in self.values
        for entry in entries:
            sizes.add(entry.cable.awg)
            if bonding:
                sizes.add(entry.cable.bonding_awg)
        for device in box.devices:
            if device.kind in ON_STRAP:
                sizes.add(device.awg)
        if box.luminaire_wires and "luminaire_wire" in self.values:
            sizes.add(box.luminaire_awg)
        unlisted = []
        for awg in sizes:
            if awg is not None and awg not in self.each:
                unlisted.append(awg)
        return min(unlisted, default="")

    def sum(self, box: Box, entries: Sequence[Entry]) -> Sum:
        """What certainly counts, and what would count if each missing fact went the worst way."""
        facts = _facts(box, entries)
        found = self._sums.get(facts)
        if found is None:
            found = self._sums[facts] = self._sum(box, entries)
        return found

    def _sum(self, box: Box, entries: Sequence[Entry]) -> Sum:
        if beyond := self._beyond(box, entries):
            return Sum([], [], 0.0, inf, beyond)
        sure, doubts = self._lines(box, entries)
        least = round(sum(line.ml for line in sure), 6)
        return Sum(sure, doubts, least, round(least + sum(line.ml for line in doubts), 6))

    def _lines(self, box: Box, entries: Sequence[Entry]) -> tuple[list[Allowance], list[Allowance]]:
        doubts: list[Allowance] = []
        counted = self._conductors(entries, doubts)
        if not counted:
            return [], doubts
        each = self.each
        gauges = []
        for _, awg in counted:
            gauges.append(awg)
        largest = max(gauges, key=each.__getitem__)
        sizes = [awg for kind, awg in counted if kind is LineKind.ENDING] or [largest]
        bounds = (min(sizes, key=each.__getitem__), largest)
        sure = []
        for (kind, awg), count in counted.items():
            sure.append(
                Allowance(kind, self._times(kind) * count, each[awg], awg, LIMITS.get(kind, ""))
            )
        self._bonding(entries, sure)
        self._fittings(box, largest, sure, doubts)
        for device in box.devices:
            if device.kind in ON_STRAP:
                self._strap(device, bounds, sure, doubts)
        if "connector_pair" in self.values:
            self._connectors(box, entries, bounds, sure, doubts)
        return sure, doubts

    def _of(
        self,
        kind: LineKind,
        times: float,
        awg: str,
        limit: str = "",
        device: DeviceKind | None = None,
    ) -> Allowance:
        return Allowance(kind, times, self.each[awg], awg, limit, device)

    def _conductors(
        self, entries: Sequence[Entry], doubts: list[Allowance]
    ) -> dict[tuple[LineKind, str], int]:
        """Insulated conductors by what they do here and their size."""
        counted: dict[tuple[LineKind, str], int] = {}
        for cable, passes, loop_mm in entries:
            awg, kind = cable.awg, LineKind.ENDING
            if awg is None:
                doubts.append(Allowance(LineKind.SIZE, inf, 1.0, cable=cable.id))
                continue
            if passes:
                kind = LineKind.PASSING
                if loop_mm >= self.loop_mm:
                    kind = LineKind.LOOPED
            key = (kind, awg)
            counted[key] = counted.get(key, 0) + cable.insulated
        return counted

    def _times(self, kind: LineKind) -> float:
        if kind is LineKind.LOOPED:
            return float(self.values["loop"])
        return 1

    def _bonding(self, entries: Sequence[Entry], sure: list[Allowance]) -> None:
        """Bonding conductors together, where the code counts them; isolated ones once more."""
        first = self.values.get("bonding_first")
        if first is None:
            return
        bonded = []
        isolated = []
        count = 0
        for entry in entries:
            if entry.cable.bonding and entry.cable.awg:
                bonded.append(entry)
                count += entry.cable.bonding
            if entry.cable.isolated_bonding and entry.cable.awg:
                isolated.append(entry)
        if bonded:
            awg = self._largest_bonding(bonded)
            sure.append(self._of(LineKind.BONDING, first, awg, "bonding_first"))
            more = count - self.values.get("bonding_free", inf)
            if more > 0:
                each = self.values["bonding_each"]
                sure.append(self._of(LineKind.MORE_BONDING, each * more, awg, "bonding_each"))
        if isolated:
            awg = self._largest_bonding(isolated)
            sure.append(self._of(LineKind.ISOLATED_BONDING, first, awg, "bonding_first"))

    def _largest_bonding(self, entries: Sequence[Entry]) -> str:
        sizes = []
        for entry in entries:
            sizes.append(entry.cable.bonding_awg or entry.cable.awg or "")
        return max(sizes, key=self.each.__getitem__)

    def _fittings(
        self, box: Box, largest: str, sure: list[Allowance], doubts: list[Allowance]
    ) -> None:
        values = self.values
        if "clamps" in values and box.clamps not in (Clamps.NONE, Clamps.EXTERNAL):
            line = self._of(LineKind.CLAMPS, values["clamps"], largest, "clamps")
            (doubts if box.clamps is None else sure).append(line)
        studs = box.studs + box.hickeys
        if studs and "stud" in values:
            times = values["stud"] * (1 if values.get("studs_together") else studs)
            sure.append(self._of(LineKind.STUDS, times, largest, "stud"))
        if box.luminaire_wires and "luminaire_wire" in values:
            times = values["luminaire_wire"] * box.luminaire_wires
            sure.append(self._of(LineKind.LUMINAIRE, times, box.luminaire_awg, "luminaire_wire"))

    def _strap(
        self, device: Device, sizes: tuple[str, str], sure: list[Allowance], doubts: list[Allowance]
    ) -> None:
        """A device by its strap, or by its depth where the code asks and it is deep."""
        values, what = self.values, device.kind
        deep, depth = values.get("deep_mm"), device.depth_mm or self.depths.get(device.kind)
        if deep is not None and depth is not None and depth > deep:
            sure.append(self._deep(depth, what))
            return
        times = values["strap"] * (device.gangs if values.get("strap_by_gang") else 1)
        least = self._of(LineKind.STRAP, times, device.awg or sizes[0], "strap", what)
        if deep is not None and depth is None:
            sure.append(min(least, self._deep(deep, what), key=lambda line: line.ml))
            doubts.append(Allowance(LineKind.DEPTH, inf, 1.0, "", "deep_mm", what))
            return
        sure.append(least)
        if not device.awg:
            self._rise(LineKind.STRAP_SIZE, times, sizes, doubts, what)

    def _deep(self, depth_mm: float, what: DeviceKind) -> Allowance:
        return Allowance(
            LineKind.DEEP, depth_mm, self.values["deep_ml_per_mm"], "", "deep_ml_per_mm", what
        )

    def _connectors(
        self,
        box: Box,
        entries: Sequence[Entry],
        sizes: tuple[str, str],
        sure: list[Allowance],
        doubts: list[Allowance],
    ) -> None:
        """Pairs of wire connectors, each of the largest size that ends in one."""
        each = self.values.get("connector_pair")
        if each is None:
            return
        if box.connectors is None:
            joined = sum(e.cable.insulated + e.cable.bonding for e in entries if not e.passes)
            pairs = (joined + box.pigtails) // 2  # a connector may cap a single conductor
            if pairs:
                line = self._of(LineKind.CONNECTOR_COUNT, each * pairs, sizes[1], "connector_pair")
                doubts.append(line)
        elif pairs := box.connectors // 2:
            sure.append(self._of(LineKind.CONNECTORS, each * pairs, sizes[0], "connector_pair"))
            self._rise(LineKind.CONNECTOR_SIZE, each * pairs, sizes, doubts)

    def _rise(
        self,
        kind: LineKind,
        count: float,
        sizes: tuple[str, str],
        doubts: list[Allowance],
        device: DeviceKind | None = None,
    ) -> None:
        """What a line grows by when the larger size ends there."""
        rise = self.each[sizes[1]] - self.each[sizes[0]]
        if rise > 0:
            doubts.append(Allowance(kind, count, round(rise, 6), device=device))


def _facts(box: Box, entries: Sequence[Entry]) -> Any:
    """Everything that the sum of a box rests on."""
    cables = []
    for c, passes, loop in entries:
        cables.append(
            (c.awg, c.insulated, c.bonding, c.bonding_awg, c.isolated_bonding, passes, loop)
        )
    unsized = []
    for c, *_ in entries:
        if c.awg is None:
            unsized.append(c.id)
    devices = []
    for d in box.devices:
        devices.append((d.kind, d.awg, d.gangs, d.depth_mm))
    fittings = (box.clamps, box.studs, box.hickeys, box.connectors, box.pigtails)
    return (*cables, *unsized, *devices, fittings, box.luminaire_wires, box.luminaire_awg)

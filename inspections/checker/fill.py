"""What takes room in a box, by the allowances of one code.

Lines are either certain or in doubt. Certain ones add up to the least that the fill can be;
with the ones in doubt it is the most, and a doubt without an end has an infinite count.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import NamedTuple

from .house.boxes import Box, Clamps, Device, DeviceKind
from .rulebook import Rulebook
from .wiring import Entry

NAME = "box-fill"
ON_STRAP = frozenset(
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
    """So many allowances of so much: `times` of `each_ml`, for a size where there is one."""

    kind: str
    times: float
    each_ml: float
    awg: str = ""
    limit: str = ""
    """The limit, beside the volume of the size, that it rests on."""
    about: str = ""

    @property
    def ml(self) -> float:
        """Its volume."""
        return self.times * self.each_ml


class Fill:
    """The allowances of one code, read from its rulebook once."""

    def __init__(self, book: Rulebook, depths: Mapping[DeviceKind, float]) -> None:
        limits = book.limits_of(NAME)
        self.values = {limit.name.removeprefix(f"{NAME}."): limit.value for limit in limits}
        self.depths = depths
        self.each: dict[str, float] = {
            name.removeprefix("volume_").removesuffix("_ml"): value
            for name, value in self.values.items()
            if name.startswith("volume_")
        }
        self.largest_known = max(self.each, key=self.each.__getitem__, default="")

    def stock(self, name: str | None) -> tuple[float | None, str]:
        """The volume of a standard box and the limit it stands in."""
        for table in ("stock_ml", "stock_more_ml"):
            if name in self.values.get(table, {}):
                return self.values[table][name], table
        return None, ""

    def beyond(self, box: Box, entries: Sequence[Entry]) -> str:
        """A size of conductor at the box for which the code has no volume, if there is one."""
        sizes = [entry.cable.awg for entry in entries]
        sizes += [device.awg for device in box.devices if device.kind in ON_STRAP]
        if "bonding_first" in self.values:
            sizes += [entry.cable.bonding_awg for entry in entries]
        if box.luminaire_wires and "luminaire_wire" in self.values:
            sizes.append(box.luminaire_awg)
        return next((awg for awg in sizes if awg is not None and awg not in self.each), "")

    def lines(self, box: Box, entries: Sequence[Entry]) -> tuple[list[Line], list[Line]]:
        """What certainly counts, and what would count if each missing fact went the worst way."""
        sized = [entry for entry in entries if entry.cable.awg]
        doubts = [
            Line("size", inf, 1.0, about=entry.cable.id) for entry in entries if not entry.cable.awg
        ]
        if not sized:
            return [], doubts
        largest = max((entry.cable.awg or "" for entry in sized), key=self.each.__getitem__)
        sizes = {entry.cable.awg or "" for entry in sized if not entry.passes} or {largest}
        smallest = min(sizes, key=self.each.__getitem__)
        sure = [*self._conductors(sized), *self._bonding(sized), *self._fittings(box, largest)]
        for device in box.devices:
            if device.kind in ON_STRAP:
                self._strap(device, smallest, largest, sure, doubts)
        self._connectors(box, sized, (smallest, largest), sure, doubts)
        if "clamps" in self.values and box.clamps is None:
            doubts.append(self._of("clamps", self.values["clamps"], largest, "clamps"))
        return sure, doubts

    def _of(self, kind: str, count: float, awg: str, limit: str = "", about: str = "") -> Line:
        return Line(kind, count, self.each[awg], awg, limit, about)

    def _conductors(self, entries: Sequence[Entry]) -> Iterator[Line]:
        counted: Counter[tuple[str, str]] = Counter()
        loop_mm = self.values.get("loop_mm", inf)
        for entry in entries:
            cable = entry.cable
            kind = "passing" if entry.passes else "ending"
            if entry.passes and entry.loop_mm >= loop_mm:
                kind = "looped"
            counted[kind, cable.awg or ""] += cable.insulated
        for (kind, awg), count in counted.items():
            if kind == "looped":
                yield self._of(kind, count * self.values["loop"], awg, "loop_mm")
            elif count:
                yield self._of(kind, count, awg)

    def _bonding(self, entries: Sequence[Entry]) -> Iterator[Line]:
        first = self.values.get("bonding_first")
        count = sum(entry.cable.bonding for entry in entries)
        isolated = [entry for entry in entries if entry.cable.isolated_bonding]
        if first is not None and count:
            awg = self._largest_bonding([entry for entry in entries if entry.cable.bonding])
            yield self._of("bonding", first, awg, "bonding_first")
            free = self.values.get("bonding_free", inf)
            if count > free:
                each = self.values["bonding_each"]
                yield self._of("more bonding", each * (count - free), awg, "bonding_each")
        if first is not None and isolated:
            awg = self._largest_bonding(isolated)
            yield self._of("isolated bonding", first, awg, "bonding_first")

    def _largest_bonding(self, entries: Sequence[Entry]) -> str:
        sizes = (entry.cable.bonding_awg or entry.cable.awg or "" for entry in entries)
        return max(sizes, key=self.each.__getitem__)

    def _fittings(self, box: Box, largest: str) -> Iterator[Line]:
        values = self.values
        if "clamps" in values and box.clamps is Clamps.INTERNAL:
            yield self._of("clamps", values["clamps"], largest, "clamps")
        studs = box.studs + box.hickeys
        if studs and "stud" in values:
            counted = 1 if values.get("studs_together") else studs
            yield self._of("studs", values["stud"] * counted, largest, "stud")
        if box.luminaire_wires and "luminaire_wire" in values:
            count = values["luminaire_wire"] * box.luminaire_wires
            yield self._of("luminaire", count, box.luminaire_awg, "luminaire_wire")

    def _strap(
        self, device: Device, smallest: str, largest: str, sure: list[Line], doubts: list[Line]
    ) -> None:
        """A device by its strap, or by its depth where the code asks and it is deep."""
        what, deep = device.kind.value.replace("_", " "), self.values.get("deep_mm")
        depth = device.depth_mm or self.depths.get(device.kind)
        if deep is not None and depth is not None and depth > deep:
            sure.append(self._deep(depth, what))
            return
        count = self.values["strap"] * (device.gangs if self.values.get("strap_by_gang") else 1)
        least = self._of("strap", count, device.awg or smallest, "strap", what)
        if deep is not None and depth is None:
            sure.append(min(least, self._deep(deep, what), key=lambda line: line.ml))
            doubts.append(Line("depth", inf, 1.0, "", "deep_mm", what))
            return
        sure.append(least)
        if not device.awg:
            self._rise("strap size", count, (smallest, largest), doubts, what)

    def _deep(self, depth_mm: float, what: str) -> Line:
        return Line("deep", depth_mm, self.values["deep_ml_per_mm"], "", "deep_ml_per_mm", what)

    def _connectors(
        self,
        box: Box,
        entries: Sequence[Entry],
        sizes: tuple[str, str],
        sure: list[Line],
        doubts: list[Line],
    ) -> None:
        """Pairs of wire connectors, each of the largest size that ends in one."""
        each = self.values.get("connector_pair")
        if each is None:
            return
        if box.connectors is None:
            joined = sum(e.cable.insulated + e.cable.bonding for e in entries if not e.passes)
            pairs = (joined + box.pigtails) // 2 // 2  # a connector joins two or more
            if pairs:
                line = self._of("connector count", each * pairs, sizes[1], "connector_pair")
                doubts.append(line)
        elif pairs := box.connectors // 2:
            sure.append(self._of("connectors", each * pairs, sizes[0], "connector_pair"))
            self._rise("connector size", each * pairs, sizes, doubts)

    def _rise(
        self,
        kind: str,
        count: float,
        sizes: tuple[str, str],
        doubts: list[Line],
        about: str = "",
    ) -> None:
        """What a line grows by when the larger size ends there."""
        rise = self.each[sizes[1]] - self.each[sizes[0]]
        if rise > 0:
            doubts.append(Line(kind, count, round(rise, 6), "", "", about))

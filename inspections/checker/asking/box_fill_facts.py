"""The facts of a box fill: what takes room, line by line, and what is missing."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from inspections.checker.house.boxes import DeviceKind


class LineKind(StrEnum):
    """What a line of the sum is for, in the order of the working."""

    ENDING = "ending"
    PASSING = "passing"
    LOOPED = "looped"
    BONDING = "bonding"
    MORE_BONDING = "more-bonding"
    ISOLATED_BONDING = "isolated-bonding"
    CLAMPS = "clamps"
    STUDS = "studs"
    LUMINAIRE = "luminaire"
    STRAP = "strap"
    DEEP = "deep"
    CONNECTORS = "connectors"
    SIZE = "size"
    """Of a cable: not recorded. The rest are doubts too."""
    DEPTH = "depth"
    STRAP_SIZE = "strap-size"
    CONNECTOR_COUNT = "connector-count"
    CONNECTOR_SIZE = "connector-size"


class Unknown(StrEnum):
    """What is missing of a box, as far as its fill rests on it."""

    SIZE = "size"
    CLAMPS = "clamps"
    DEPTH = "depth"
    STRAP_SIZE = "strap-size"
    CONNECTOR_COUNT = "connector-count"
    CONNECTOR_SIZE = "connector-size"
    VOLUME = "volume"
    STOCK = "stock"
    CABLES = "cables"


@dataclass(frozen=True, slots=True)
class FillLacking:
    """A missing fact: of a cable or a kind of device, or of a box on the shelf."""

    what: Unknown
    cable: str = ""
    device: DeviceKind | None = None
    stock: str = ""


@dataclass(frozen=True, slots=True)
class BeyondTable:
    """A box with conductors of a size that the table has no volume for."""

    box: str
    awg: str


@dataclass(frozen=True, slots=True)
class Allowance:
    """So many allowances of so much: `times` of `each_ml`, for a size where there is one."""

    kind: LineKind
    times: float
    each_ml: float
    awg: str = ""
    limit: str = ""
    """The limit, beside the volume of the size, that it rests on."""
    device: DeviceKind | None = None
    cable: str = ""

    @property
    def ml(self) -> float:
        """Its volume."""
        return self.times * self.each_ml


@dataclass(frozen=True, slots=True)
class FillFacts:
    """The lines of a box, their sum, what the box holds, and what is missing.

    Equal lines stand as often as there are such parts, so both lists are kept in one order.
    """

    box: str
    lines: tuple[Allowance, ...]
    fill_ml: float
    has_ml: float | None
    missing: tuple[FillLacking, ...]


def fill_facts(
    box: str,
    lines: Sequence[Allowance],
    fill_ml: float,
    has_ml: float | None,
    missing: Sequence[FillLacking],
) -> FillFacts:
    """The same whatever the order of cables and devices in the house file."""
    ordered = sorted(lines, key=_line_order)
    return FillFacts(
        box, tuple(ordered), fill_ml, has_ml, tuple(sorted(missing, key=_missing_order))
    )


_RANK = {kind: rank for rank, kind in enumerate(LineKind)}


def _line_order(line: Allowance) -> tuple[Any, ...]:
    return (_RANK[line.kind], line.each_ml, line.awg, line.device or "", line.times, line.cable)


def _missing_order(missing: FillLacking) -> tuple[Any, ...]:
    rank = list(Unknown).index(missing.what)
    return (rank, missing.cable, missing.device or "", missing.stock)

"""Cables between boxes, the holes they share, and what was measured between them."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from .parts import Gauge, Id, Length, Offset, Part


class CableKind(StrEnum):
    """Power cables first, then communication cables."""

    NM = "nm"
    AC = "ac"
    MC = "mc"
    UF = "uf"
    SE = "se"
    RACEWAY = "raceway"
    OPEN = "open"
    DATA = "data"
    COAX = "coax"
    PHONE = "phone"
    LOW_VOLTAGE = "low_voltage"

    @property
    def carries_power(self) -> bool:
        """Whether its conductors belong to a branch circuit, feeder or service."""
        return self not in COMMUNICATIONS


COMMUNICATIONS = frozenset({CableKind.DATA, CableKind.COAX, CableKind.PHONE, CableKind.LOW_VOLTAGE})


class Through(Part):
    """A box that the cable's conductors pass without a splice."""

    box: Id
    loop_mm: Offset = 0
    """Length of unbroken conductor left in the box as a loop."""


class Cable(Part):
    """One run between two nodes of the wiring: boxes, panels or appliances."""

    id: Id
    kind: CableKind
    ends: tuple[Id, Id]
    """The two nodes it joins, the one nearer the panel first."""
    through: tuple[Through, ...] = ()
    circuit: Id | None = None
    awg: Gauge | None = None
    """Size of the insulated conductors; a communication cable may leave it out."""
    insulated: Annotated[int, Field(ge=0, le=50)] = 2
    """Insulated conductors."""
    bonding: Annotated[int, Field(ge=0, le=4)] = 1
    """Equipment grounding or bonding conductors."""
    bonding_awg: Gauge | None = None
    """Their size when it is not that of the insulated ones."""
    isolated_bonding: Annotated[int, Field(ge=0, le=4)] = 0
    """Further bonding conductors that only isolated-ground receptacles use."""
    length_mm: Length | None = None


class Member(StrEnum):
    """The framing that a hole goes through."""

    STUD = "stud"
    JOIST = "joist"
    PLATE = "plate"
    BEAM = "beam"


class Hole(Part):
    """A bored hole and the cables in it."""

    id: Id
    room: Id
    member: Member
    cables: Annotated[tuple[Id, ...], Field(min_length=1)]


class Separation(Part):
    """What was measured between two cables where they come nearest."""

    cables: tuple[Id, Id]
    room: Id
    distance_mm: Offset | None = None
    """Missing when they run near one another and nobody measured."""

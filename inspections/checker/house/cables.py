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
    current_carrying: Annotated[int, Field(ge=0, le=50)] | None = None
    """Insulated conductors that carry load current together; missing when nobody said."""
    first_supports_mm: tuple[Offset | None, Offset | None] | None = None
    """Along the cable from each of its ends to the first support; null for not measured."""
    interval_mm: Length | None = None
    """The longest stretch between supports; a hole in framing that carries it is one."""
    fished: bool = False
    """Drawn through a closed space, where it cannot be supported."""
    metal_framing: bool | None = None
    """A cable that was fished: whether it goes over metal framing there."""
    edge_mm: Offset | None = None
    """Where it runs along framing: how near it comes to the face that takes drywall."""
    plate_mm: Offset | None = None
    """Thickness of the steel plate that guards it there; 0 for none."""
    bend_mm: Offset | None = None
    """Inner radius of its sharpest bend."""
    width_mm: Length | None = None
    """Its outer diameter; the wide way of a flat cable."""
    undamaged: bool | None = None
    """Whether its sheath is whole along its run; missing when nobody walked it."""

    @property
    def nodes(self) -> list[Id]:
        """What it joins, and the boxes that it passes."""
        nodes = list(self.ends)
        for through in self.through:
            nodes.append(through.box)
        return nodes


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
    diameter_mm: Length | None = None
    member_mm: Length | None = None
    """Depth of the member that it goes through."""
    edge_mm: Offset | None = None
    """From the hole's edge to the nearest edge of the member."""
    plate_mm: Offset | None = None
    """Thickness of the steel plate that guards it; 0 for none."""
    bearing: bool | None = None
    """A stud or plate: whether its wall carries load."""
    doubled: bool = False
    """A stud that is doubled where it is bored."""
    sealed: bool | None = None
    """Whether it is, or will be, filled with insulation, caulk or foam."""
    metal: bool = False
    """Whether the member is of metal."""
    bushed: bool | None = None
    """A metal member: whether a bushing or grommet covers the edges of the hole."""


class Notch(Part):
    """A notch cut in framing for cables."""

    id: Id
    room: Id
    member: Member
    cables: Annotated[tuple[Id, ...], Field(min_length=1)]
    depth_mm: Length | None = None
    member_mm: Length | None = None
    """Depth of the member that it is cut in."""
    middle_third: bool | None = None
    """A joist: whether it lies in the middle third of the span."""
    bearing_mm: Offset | None = None
    """A joist: from the edge of the bearing to the notch."""
    bottom: bool | None = None
    """A joist: whether it is cut from below."""
    bearing: bool | None = None
    """A stud: whether its wall carries load."""
    plate_mm: Offset | None = None
    """Thickness of the steel plate over it; 0 for none."""


class Fastening(Part):
    """A staple, strap or clip and the cables it holds."""

    id: Id
    room: Id
    cables: Annotated[tuple[Id, ...], Field(min_length=1)]
    listed_for: Annotated[int, Field(ge=1, le=100)] | None = None
    """Cables it is listed to hold; missing when nobody read its package."""
    on_edge: bool | None = None
    """Whether it presses a flat cable on its narrow edge."""


class Bundle(Part):
    """Cables that run side by side, or bundled, over a stretch."""

    id: Id
    room: Id
    cables: Annotated[tuple[Id, ...], Field(min_length=2)]
    length_mm: Length | None = None
    """How far they run together."""
    apart: bool | None = None
    """Whether they are kept apart, so that each has air around it."""
    stand_offs: bool | None = None
    """Whether stand-offs hold them away from the framing."""


class HeatSource(StrEnum):
    """What warms a cable that runs near it."""

    DUCT = "duct"
    PIPE = "pipe"
    CHIMNEY = "chimney"
    CLEANOUT = "cleanout"


class HeatGap(Part):
    """What was measured between a cable and something hot."""

    cable: Id
    room: Id
    source: HeatSource
    distance_mm: Offset | None = None
    """Missing when it runs near and is not measured yet."""
    shielded: bool | None = None
    """Whether a barrier keeps the cable at room temperature."""


class Face(StrEnum):
    """The face of framing that a cable crosses."""

    UPPER = "upper"
    LOWER = "lower"


class Crossing(Part):
    """A cable that runs across the faces of joists or rafters, not through them."""

    cable: Id
    room: Id
    face: Face
    guarded: bool | None = None
    """Whether guard strips, running boards or the like protect it."""
    stairs: bool | None = None
    """An attic: whether permanent stairs or a ladder lead to it."""
    hatch_mm: Offset | None = None
    """An attic: from the nearest edge of its hatch."""
    space_mm: Offset | None = None
    """An attic: height between joists and rafters there."""


class Separation(Part):
    """What was measured between two cables where they come nearest."""

    cables: tuple[Id, Id]
    room: Id
    distance_mm: Offset | None = None
    """Missing when they run near one another and are not measured yet."""
    crossing_deg: Annotated[float, Field(ge=0, le=90)] | None = None
    """The angle at which they cross; missing where they do not, or nobody looked."""

"""Grounding and bonding at the service, and what else stands there."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from .parts import Count, Gauge, Id, Length, Offset, Part
from .service import Electrode


class GroundingElectrode(Part):
    """An electrode and the conductor that runs to it."""

    id: Id
    kind: Electrode
    conductor: Gauge | None = None
    """Size of its grounding electrode conductor; missing when it is not recorded yet."""
    material: Literal["copper", "aluminum"] = "copper"
    """What that conductor is made of."""
    length_mm: Length | None = None
    """A rod: the length driven; missing when it is not measured yet."""
    apart_mm: Offset | None = None
    """A rod: the distance to the nearest other one; missing when it is not measured yet."""


class PipeKind(StrEnum):
    """What a metal pipe of the building carries."""

    WATER = "water"
    GAS = "gas"


class Pipe(Part):
    """The piping of the building that carries one thing."""

    kind: PipeKind
    metal: bool | None = None
    """Whether it is metal throughout; missing when nobody looked."""
    bonded: bool | None = None
    """Whether it is bonded to the service; missing when nobody looked."""


class DisconnectPlace(StrEnum):
    """Where the service, or a disconnect before it, can be cut off."""

    OUTDOORS = "outdoors"
    INDOORS = "indoors"


class Grounding(Part):
    """What is recorded at the service about grounding, bonding and cutting off."""

    electrodes: tuple[GroundingElectrode, ...] = ()
    resistance_ohm: Annotated[float, Field(gt=0, le=100_000)] | None = None
    """Resistance to earth of a single rod, when somebody measured it."""
    pipes: tuple[Pipe, ...] | None = None
    """Water and gas piping; missing when nobody looked."""
    intersystem_terminals: Count | None = None
    """Places for other systems' bonding conductors; missing when nobody looked."""
    surge_protection: bool | None = None
    """Whether a surge-protective device is at the service; missing when nobody looked."""
    disconnect: DisconnectPlace | None = None
    """Where the emergency disconnect is; missing when nobody looked."""

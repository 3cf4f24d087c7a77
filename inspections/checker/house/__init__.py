"""A house as a value: what was roughed in, and nothing concluded from it."""

from typing import Literal

from .boxes import Box, DeviceKind, Insulation, InsulationKind
from .cables import Bundle, Cable, Crossing, Fastening, HeatGap, Hole, Notch, Separation
from .grounding import Grounding
from .parts import Id, Length, Name, Part, Text
from .power import Appliance, Circuit, Panel
from .rooms import Counter, HouseArea, Room, Storey
from .service import Service


class House(Part):
    """The whole wiring of one house, as a house file gives it."""

    format: Literal["studbay-house-1"]
    name: Name
    note: Text = ""
    rulebook: Id | None = None
    """The rulebook it is built to, unless the reader asks for another."""
    device_depth_mm: dict[DeviceKind, Length] = {}
    """How far devices of a kind reach behind their strap, unless one says otherwise."""
    height_mm: dict[DeviceKind, Length] = {}
    """The heights at which the shop sets boxes for devices of a kind."""
    insulation: Insulation | None = None
    """What fills the outside walls; missing when it is not recorded yet."""
    storeys: tuple[Storey, ...]
    areas: tuple[HouseArea, ...]
    rooms: tuple[Room, ...]
    counters: tuple[Counter, ...] = ()
    panels: tuple[Panel, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    appliances: tuple[Appliance, ...] = ()
    boxes: tuple[Box, ...] = ()
    cables: tuple[Cable, ...] = ()
    holes: tuple[Hole, ...] = ()
    notches: tuple[Notch, ...] = ()
    fastenings: tuple[Fastening, ...] = ()
    bundles: tuple[Bundle, ...] = ()
    separations: tuple[Separation, ...] = ()
    service: Service | None = None
    heat_gaps: tuple[HeatGap, ...] = ()
    crossings: tuple[Crossing, ...] = ()
    grounding: Grounding | None = None


__all__ = ["House", "Insulation", "InsulationKind"]

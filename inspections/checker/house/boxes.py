"""Boxes, where they stand, what is in them."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from .parts import (
    Amperes,
    Count,
    Gauge,
    Id,
    Length,
    Name,
    Offset,
    Part,
    Position,
    Volume,
    Weight,
)
from .power import Protection


class OnWall(Part):
    """On a wall of the box's room."""

    surface: Literal["wall"]
    wall: Id
    at_mm: Offset
    """Centre of the box, from the wall's left end."""
    height_mm: Offset | None = None
    """Centre of the box above the finished floor; missing when it is not measured yet."""


class OnCeiling(Part):
    """In the ceiling of the box's room."""

    surface: Literal["ceiling"]
    x_mm: Position | None = None
    y_mm: Position | None = None


class OnFloor(Part):
    """In the floor, in front of a wall."""

    surface: Literal["floor"]
    wall: Id
    at_mm: Offset
    from_wall_mm: Offset | None = None
    """Distance from the wall; missing when it is not measured yet."""


class OnCounter(Part):
    """In or on a counter: the side of an island, the top of a peninsula."""

    surface: Literal["counter"]
    counter: Id
    at_mm: Offset | None = None
    """Distance from the counter's left end or joined edge; missing when it is not measured yet."""
    above_top_mm: Annotated[float, Field(ge=-1000, le=1000)] | None = None
    """Height above the work surface; negative below it, 0 in it."""
    overhang_mm: Offset | None = None
    """How far the top reaches out over a box below it; missing when it is not measured yet."""


class InSpace(Part):
    """In an attic, crawl space, joist bay or other place without a finished surface."""

    surface: Literal["space"]
    accessible: bool | None = None
    """Whether a person can reach it once the house is finished."""


Place = Annotated[
    OnWall | OnCeiling | OnFloor | OnCounter | InSpace, Field(discriminator="surface")
]


class Material(StrEnum):
    """What a box is made of."""

    METAL = "metal"
    NONMETALLIC = "nonmetallic"


class Clamps(StrEnum):
    """How cables are held where they enter."""

    NONE = "none"
    INTERNAL = "internal"
    EXTERNAL = "external"


class DeviceKind(StrEnum):
    """What a box holds or feeds."""

    RECEPTACLE = "receptacle"
    SWITCH = "switch"
    DIMMER = "dimmer"
    FAN_CONTROL = "fan_control"
    LUMINAIRE = "luminaire"
    CEILING_FAN = "ceiling_fan"
    EXHAUST_FAN = "exhaust_fan"
    SMOKE_ALARM = "smoke_alarm"
    CO_ALARM = "co_alarm"
    COMBINED_ALARM = "combined_alarm"
    THERMOSTAT = "thermostat"
    DISCONNECT = "disconnect"
    DATA = "data"
    COAX = "coax"
    PHONE = "phone"
    CHIME = "chime"


class InsulationKind(StrEnum):
    """What fills the outside walls."""

    BATTS = "batts"
    BLOWN = "blown"
    SPRAY_FOAM = "spray_foam"
    RIGID = "rigid"


class Insulation(Part):
    """The insulation of the outside walls."""

    kind: InsulationKind
    vapour_barrier: bool | None = None
    """Whether it is itself the vapour barrier; missing when nobody knows."""


class Lamp(StrEnum):
    """A luminaire's source of light."""

    INCANDESCENT = "incandescent"
    FLUORESCENT = "fluorescent"
    LED = "led"


class Mounting(StrEnum):
    """How a luminaire sits in or on its surface."""

    SURFACE = "surface"
    RECESSED = "recessed"
    PENDANT = "pendant"


class CeilingFinish(StrEnum):
    """What a ceiling will be closed with."""

    BOARD = "board"
    WOOD = "wood"


class Recessed(Part):
    """A luminaire recessed in a ceiling or wall; each fact is missing when nobody looked."""

    insulation_contact: bool | None = None
    """Whether it is marked for contact with insulation (Type IC)."""
    insulated: bool | None = None
    """Whether there will be insulation in its cavity."""
    insulation_mm: Offset | None = None
    """Nearest insulation to it, by a barrier that keeps it off; 0 in contact."""
    combustible_mm: Offset | None = None
    """Nearest framing or other material that burns, but for where it is held."""
    joints_accessible: bool | None = None
    """Whether its joint box can be reached from below or from above."""
    ceiling: CeilingFinish | None = None
    """What the ceiling around it will be closed with."""
    plate: bool | None = None
    """Whether a location plate marks it for those who close the ceiling."""


class Sensor(StrEnum):
    """How a smoke alarm notices smoke."""

    IONIZATION = "ionization"
    PHOTOELECTRIC = "photoelectric"
    BOTH = "both"


class Device(Part):
    """A device on a strap or yoke, or what hangs on the box."""

    kind: DeviceKind
    circuit: Id | None = None
    """The circuit that feeds it; a split receptacle may name the second as well."""
    second_circuit: Id | None = None
    awg: Gauge | None = None
    """Largest conductor that ends on it; missing when it is not recorded yet."""
    gangs: Annotated[int, Field(ge=1, le=3)] = 1
    """Gangs that its strap takes up."""
    depth_mm: Length | None = None
    """How far it reaches into the box behind its mounting strap; missing leaves it to what the
    house says of its kind."""
    amperes: Amperes | None = None
    poles: Annotated[int, Field(ge=1, le=3)] = 1
    ways: Literal[2, 3, 4] = 2
    """A switch: 2 single-pole, 3 three-way, 4 four-way."""
    in_cabinet: bool = False
    """Within a cabinet or cupboard, out of reach of the room."""
    part_of_equipment: bool = False
    """Part of a luminaire or appliance, not of the building."""
    weight_kg: Weight | None = None
    """What it weighs with its parts, when it hangs on the box."""
    recessed: Recessed | None = None
    """A luminaire that is recessed, and what was seen of it."""
    dedicated_to: Name | None = None
    """The one appliance it is there for: refrigerator, range, dryer, washer."""
    tamper_resistant: bool | None = None
    """A receptacle: whether it is marked so; missing when nobody looked."""
    controls: tuple[Id, ...] | None = None
    """A switch: the boxes whose lights or receptacles it turns on and off; missing leaves it to
    the wiring."""
    own_switch: bool | None = None
    """A luminaire: whether it has a switch or pull chain itself; missing when nobody looked."""
    lamp: Lamp | None = None
    """A luminaire: its source of light; missing when it is not recorded yet."""
    mounting: Mounting | None = None
    """A luminaire: how it is mounted; missing when it is not recorded yet."""
    from_storage_mm: Offset | None = None
    """A luminaire in a closet: nearest distance to where clothes and boxes are kept; missing when
    it is not measured yet."""
    protection: Protection | None = None
    """Protection built into a receptacle."""
    protects_onward: bool = False
    """Whether what lies beyond it on its circuit is wired to its protected side."""
    sensor: Sensor | None = None
    """A smoke alarm: its sensor; missing when it is not recorded yet."""
    battery: bool | None = None
    """An alarm: whether a battery carries it when the power fails; missing when nobody looked."""
    wireless: bool = False
    """An alarm: whether it is joined to the others by radio."""


class Box(Part):
    """A box at which cables end or pass: device, outlet or junction box."""

    id: Id
    room: Id
    area: Id | None = None
    """The area that conceals it, when that is not the room's own."""
    place: Place
    name: Name | None = None
    material: Material = Material.NONMETALLIC
    gangs: Annotated[int, Field(ge=1, le=12)] = 1
    volume_ml: Volume | None = None
    """Marked volume; missing when the box is a standard one or nobody read it."""
    stock: Id | None = None
    """A standard metal box by its name in the rulebook's table."""
    added_volume_ml: Annotated[float, Field(ge=0, le=10_000)] = 0
    """Marked volume of rings, extensions and domed covers put on it."""
    clamps: Clamps | None = None
    studs: Count = 0
    """Luminaire studs inside."""
    hickeys: Count = 0
    connectors: Count | None = None
    """Insulated wire connectors left in the box; missing when nobody counted: then taken to be at
    most one for each conductor that ends there, and none to spare."""
    pigtails: Count = 0
    """Conductors that begin and end inside the box."""
    luminaire_wires: Count = 0
    """Wires of a luminaire that are joined in the box, no canopy holding the joints."""
    luminaire_awg: Gauge = "18"
    braces: Count | None = None
    """Fixings to framing beyond the first member; missing when nobody looked."""
    bay: Annotated[int, Field(ge=1, le=20)] | None = None
    """In a garage: the vehicle bay it stands in, counted from the left as one drives in."""
    devices: tuple[Device, ...] = ()
    boot: bool | None = None
    """Whether it stands in a boot, or is a box made to seal to the vapour barrier; missing when
    nobody looked."""
    free_mm: Offset | None = None
    """Shortest free conductor, from where it leaves its sheath; missing when it is not measured
    yet."""
    outside_mm: Offset | None = None
    """Shortest length of conductor that reaches outside the opening."""
    opening_mm: Length | None = None
    """Smallest side of its opening; missing counts as a small one."""
    sheath_mm: Offset | None = None
    """Shortest length of cable sheath inside it, beyond any clamp."""
    fixed: bool | None = None
    """Whether it is fixed to framing and does not give; missing when nobody looked."""
    open_holes: Count | None = None
    """Openings that no cable uses and nothing closes; missing when nobody looked."""
    setback_mm: Annotated[float, Field(ge=-1000, le=1000)] | None = None
    """How far its front edge will stand behind the finished surface; negative in front of it."""
    surface_combustible: bool | None = None
    """Whether the finished surface around it burns: wood, not drywall."""
    own_height: bool = False
    """Meant to stand at a height of its own: for a screen on the wall, a picture lamp."""
    fan_marked: bool | None = None
    """Whether it is marked to carry a ceiling fan; missing when nobody read it."""
    spare_switched: bool | None = None
    """Whether a spare switched conductor ends in it, for a fan that may come."""
    holds_kg: Weight | None = None
    """The weight it is marked to hold, where it bears such a mark."""
    held_apart: bool | None = None
    """Whether framing carries what hangs here, and not the box."""
    barrier: bool | None = None
    """Whether a barrier parts power from communications inside it."""

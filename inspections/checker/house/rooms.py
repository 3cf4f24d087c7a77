"""Storeys, areas, rooms, walls, openings and counters: the floor line as it was built.

Walls are listed clockwise as seen from above, so that a person who faces each wall in turn
from inside walks them left to right. `at_mm` is always measured from a wall's left end.
"""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from .fixtures import Fixture
from .parts import Count, Id, Length, Name, Offset, Part, Position


class Storey(Part):
    """A level of the house, listed from the lowest up."""

    id: Id
    name: Name


class HouseArea(Part):
    """A part of the house that can be covered by itself: a storey, a wing, a ceiling."""

    id: Id
    name: Name


class OpeningKind(StrEnum):
    """What interrupts a wall at the floor line, or might."""

    DOOR = "door"
    SLIDING_DOOR = "sliding_door"
    OPENING = "opening"
    WINDOW = "window"
    FIXED_PANEL = "fixed_panel"
    FIREPLACE = "fireplace"
    CABINET = "cabinet"
    FIXTURE = "fixture"


class Swing(StrEnum):
    """The side of its opening on which a door leaf rests in this room when fully open."""

    NONE = "none"
    LEFT = "left"
    RIGHT = "right"


class Opening(Part):
    """A door, window, fireplace or full-height fixed cabinet in a wall."""

    kind: OpeningKind
    at_mm: Offset
    """Distance from the wall's left end to the left side of the opening."""
    width_mm: Length
    sill_mm: Offset | None = None
    """A window: height of its lower edge above the finished floor; 0 reaches the floor, missing
    when it is not measured yet."""
    swing: Swing | None = None
    """A door: where its leaf rests in this room when fully open; none when it opens elsewhere,
    missing when nobody looked."""
    to_grade: bool | None = None
    """An outside door: whether it leads to the ground, by steps or without; missing when nobody
    looked."""
    light: Id | None = None
    """An outside door: the box of the luminaire that lights its outer side; missing when it is not
    recorded yet."""


class WallKind(StrEnum):
    """A wall, a railing that acts as one, or an open side with nothing to stand against."""

    WALL = "wall"
    RAILING = "railing"
    OPEN = "open"


class Wall(Part):
    """One straight side of a room."""

    id: Id
    length_mm: Length
    turn_deg: Annotated[float, Field(ge=-180, le=180)] = 90
    """The turn to the next wall: 90 an inside corner, -90 an outside corner, 0 straight on."""
    kind: WallKind = WallKind.WALL
    outside: bool = False
    """Whether it stands between the room and the weather."""
    openings: tuple[Opening, ...] = ()


class RoomKind(StrEnum):
    """What a room is for, since the codes ask by use."""

    LIVING = "living"
    FAMILY = "family"
    DINING = "dining"
    KITCHEN = "kitchen"
    BEDROOM = "bedroom"
    DEN = "den"
    RECREATION = "recreation"
    BATHROOM = "bathroom"
    WASHROOM = "washroom"
    LAUNDRY = "laundry"
    HALLWAY = "hallway"
    ENTRY = "entry"
    STAIR = "stair"
    CLOSET = "closet"
    PANTRY = "pantry"
    UTILITY = "utility"
    STORAGE = "storage"
    BASEMENT = "basement"
    GARAGE = "garage"
    ATTIC = "attic"
    CRAWL_SPACE = "crawl_space"
    PORCH = "porch"
    OUTDOORS = "outdoors"


class Side(StrEnum):
    """Which side of the house a place outdoors is on."""

    FRONT = "front"
    BACK = "back"
    OTHER = "other"


class Room(Part):
    """A room and its walls in order."""

    id: Id
    name: Name
    kind: RoomKind
    area: Id
    storey: Id
    walls: tuple[Wall, ...] = ()
    closed: bool = True
    """Whether the walls come back to where they start. False: a stretch of wall alone."""
    x_mm: Position = 0
    """Where the first wall's left end stands on the plan, eastward."""
    y_mm: Position = 0
    """The same, northward."""
    heading_deg: Annotated[float, Field(ge=-360, le=360)] = 90
    """The way the first wall runs from its left end: 90 east, 0 north, clockwise."""
    ceiling_mm: Length | None = None
    """Height of the finished ceiling above the finished floor."""
    fixtures: tuple[Fixture, ...] | None = None
    """Plumbing fixtures and places of appliances; missing when they are not recorded yet."""
    vehicle_bays: Count | None = None
    """A garage: how many vehicles it is for; missing when it is not recorded yet."""
    side: Side | None = None
    """A place outdoors: the side of the house it is on; missing when it is not recorded yet."""
    from_grade: bool | None = None
    """A place outdoors: whether a person standing on the ground reaches what is on its wall;
    missing when nobody looked."""
    from_inside: bool | None = None
    """A porch, deck or balcony: whether a door of the house leads to it; missing when nobody
    looked."""
    risers: Count | None = None
    """A stair: its risers between the floors; missing when nobody counted."""
    joins: tuple[Id, ...] | None = None
    """A stair: the rooms at its foot, its head and each landing with an entry; missing when they
    are not recorded yet."""
    in_use: bool | None = None
    """An attic or crawl space: whether things are stored or equipment stands in it; missing when
    it is not recorded yet."""
    detached: bool = False
    """A garage: whether it stands apart from the house."""


class CounterKind(StrEnum):
    """How a work surface stands: along walls, free, or joined at one end."""

    WALL = "wall"
    ISLAND = "island"
    PENINSULA = "peninsula"


class InterruptionKind(StrEnum):
    """What takes the place of a work surface."""

    SINK = "sink"
    RANGE = "range"
    COOKTOP = "cooktop"
    REFRIGERATOR = "refrigerator"
    APPLIANCE = "appliance"


class Interruption(Part):
    """A sink, range or other fixture that parts a counter into spaces."""

    kind: InterruptionKind
    at_mm: Offset
    """Distance from the counter's left end, measured along its wall line."""
    width_mm: Length
    behind_mm: Offset | None = None
    """Depth of work surface between it and the wall; missing when it is not measured yet."""


class Stretch(Part):
    """The length of one wall that a counter runs along."""

    wall: Id
    at_mm: Offset
    width_mm: Length


class Counter(Part):
    """A kitchen or bar work surface. A wall counter runs on round corners."""

    id: Id
    room: Id
    kind: CounterKind
    along: tuple[Stretch, ...] = ()
    """The walls behind a wall counter, left to right without a gap."""
    length_mm: Length | None = None
    """The long side of an island or peninsula; from the joined edge outward."""
    depth_mm: Length | None = None
    """Front to back of a wall counter; the short side of an island or peninsula."""
    top_mm: Length | None = None
    """Height of the work surface above the finished floor."""
    interruptions: tuple[Interruption, ...] = ()
    provision: bool | None = None
    """An island or peninsula: whether a fed outlet is left for a receptacle to be added; missing
    when nobody looked."""

"""Plumbing fixtures and the places left for appliances, where they stand along a room's walls."""

from enum import StrEnum

from .parts import Id, Length, Offset, Part


class FixtureKind(StrEnum):
    """Basins and bathing first, then appliances by the place that is left for them."""

    BASIN = "basin"
    TUB = "tub"
    SHOWER = "shower"
    WASHER = "washer"
    DRYER = "dryer"
    REFRIGERATOR = "refrigerator"
    RANGE = "range"
    DISHWASHER = "dishwasher"
    MICROWAVE = "microwave"
    DOOR_OPENER = "door_opener"


class Fixture(Part):
    """A fixture or the place of an appliance, as wide as it stands along its wall."""

    id: Id
    kind: FixtureKind
    wall: Id | None = None
    """The wall of its room that it stands along; missing when it is not recorded yet."""
    at_mm: Offset | None = None
    """From that wall's left end to its left side; missing when it is not measured yet."""
    width_mm: Length | None = None
    """Its width along the wall; missing when it is not measured yet."""
    depth_mm: Length | None = None
    """Its depth, away from the wall; missing when it is not measured yet."""
    from_wall_mm: Offset = 0
    """The distance between the wall and its back edge."""
    top_mm: Offset | None = None
    """A basin's top, a tub's rim or a shower's threshold above the finished floor; missing when it
    is not measured yet."""

"""Panels, circuits and appliances: the other nodes of the wiring."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from .parts import Amperes, Count, Id, Length, Name, Offset, Part
from .service import ApplianceKind


class PanelKind(StrEnum):
    """Where cables gather: a service or feeder panel, or communications equipment."""

    SERVICE = "service"
    FEEDER = "feeder"
    COMMUNICATIONS = "communications"


class Panel(Part):
    """A panelboard or the enclosure where communication cables meet."""

    id: Id
    room: Id
    kind: PanelKind = PanelKind.SERVICE
    rating_a: Amperes | None = None
    """Rating of its bus or main breaker."""
    spaces: Count | None = None
    """Breaker spaces, counted as single poles."""
    clear_width_mm: Length | None = None
    """Free width in front of it, side to side; missing when it is not measured yet."""
    clear_depth_mm: Length | None = None
    """Free depth from its front; missing when it is not measured yet."""
    clear_height_mm: Length | None = None
    """Free height of that space from the floor; missing when it is not measured yet."""
    highest_handle_mm: Offset | None = None
    """The highest breaker handle in its highest position, above the floor or platform; missing
    when it is not measured yet."""
    tandem_spaces: tuple[Annotated[int, Field(ge=1, le=200)], ...] = ()
    """The spaces that its label lets take a tandem breaker."""
    main_a: Amperes | None = None
    """Its main breaker, when that is not its rating."""


class Protection(StrEnum):
    """Protection of a breaker or receptacle beyond overcurrent."""

    GFCI = "gfci"
    AFCI = "afci"
    DUAL = "dual"

    @property
    def ground_fault(self) -> bool:
        """Whether it opens on a ground fault at the level that protects people."""
        return self is not Protection.AFCI

    @property
    def arc_fault(self) -> bool:
        """Whether it opens on an arc."""
        return self is not Protection.GFCI


class Circuit(Part):
    """A branch circuit or feeder, by its breaker."""

    id: Id
    panel: Id
    name: Name
    breaker_a: Amperes
    poles: Annotated[int, Field(ge=1, le=3)] = 1
    slots: tuple[Annotated[int, Field(ge=1, le=200)], ...] = ()
    protection: Protection | None = None
    continuous_percent: Annotated[int, Field(ge=50, le=100)] | None = None
    """The share of its rating that the breaker is marked to carry continuously: 80 or 100;
    missing when nobody read it."""
    shares_neutral_with: Id | None = None
    """The circuit with which it shares a neutral; one of the two names the other."""
    common_trip: bool | None = None
    """Sharing a neutral or of two poles: whether one handle opens both; missing when nobody
    looked."""
    half: Literal["a", "b"] | None = None
    """Which half of a tandem breaker it is on; missing on a breaker of its own."""


CONDITIONS_AIR = frozenset(
    {
        ApplianceKind.SPACE_HEATING,
        ApplianceKind.THERMAL_STORAGE,
        ApplianceKind.HEAT_PUMP,
        ApplianceKind.SUPPLEMENTARY_HEAT,
        ApplianceKind.COOLING,
        ApplianceKind.FURNACE_BLOWER,
    }
)
"""Kinds of equipment that heat or cool the air of the house."""


class Appliance(Part):
    """Equipment wired straight to a cable: furnace, water heater, range hood."""

    id: Id
    room: Id
    name: Name
    volt_amperes: Annotated[float, Field(ge=0, le=1_000_000)] | None = None
    volts: Annotated[float, Field(gt=0, le=1000)] | None = None
    burns_fuel: bool | None = None
    """Whether it burns gas, oil, wood or another fuel; missing when nobody said."""
    conditions_air: bool | None = None
    """Whether it heats, cools or refrigerates and needs servicing; missing when nobody said."""
    kind: ApplianceKind | None = None
    """What it is for the load calculation; missing leaves that in doubt."""
    circuit: Id | None = None
    """The circuit that feeds it, when no cable that ends at it says so."""
    continuous: bool | None = None
    """Whether it runs three hours or more at a time."""
    motor: bool = False
    """Whether a motor is its main load."""
    managed_to_va: Annotated[float, Field(ge=0, le=1_000_000)] | None = None
    """Vehicle charging under energy management: the most that it lets through, 0 when it is
    shed before the service is full; missing without management."""

    @property
    def heats_or_cools_air(self) -> bool | None:
        """Whether it heats, cools or refrigerates: as recorded, else by its kind, else unknown."""
        if self.conditions_air is not None or self.kind in (None, ApplianceKind.OTHER):
            return self.conditions_air
        return self.kind in CONDITIONS_AIR

"""The service and what it feeds: floor area, nameplates, heating, charging, the temporary pole."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from .parts import Amperes, Count, Gauge, Id, Length, Name, Part

VoltAmperes = Annotated[float, Field(ge=0, le=1_000_000)]
SQUARE_FOOT = 0.3048**2  # m², exactly


class ApplianceKind(StrEnum):
    """What an appliance is, since the codes give each kind its own demand."""

    RANGE = "range"
    OVEN = "oven"
    COOKTOP = "cooktop"
    DRYER = "dryer"
    WATER_HEATER = "water_heater"
    TANKLESS_WATER_HEATER = "tankless_water_heater"
    DISHWASHER = "dishwasher"
    DISPOSER = "disposer"
    MICROWAVE = "microwave"
    SPACE_HEATING = "space_heating"
    THERMAL_STORAGE = "thermal_storage"
    HEAT_PUMP = "heat_pump"
    SUPPLEMENTARY_HEAT = "supplementary_heat"
    COOLING = "cooling"
    FURNACE_BLOWER = "furnace_blower"
    VEHICLE_CHARGING = "vehicle_charging"
    HOT_TUB = "hot_tub"
    POOL = "pool"
    STEAMER = "steamer"
    PUMP = "pump"
    FAN = "fan"
    OTHER = "other"


class HeatControl(StrEnum):
    """Whether each room has its own thermostat, or the whole house one."""

    ROOM = "room"
    CENTRAL = "central"


class Electrode(StrEnum):
    """What the grounding electrode conductor runs to."""

    WATER_PIPE = "water_pipe"
    ROD = "rod"
    PLATE = "plate"
    CONCRETE_ENCASED = "concrete_encased"


class FloorArea(Part):
    """A floor area as somebody entered it, in the unit they used."""

    value: Annotated[float, Field(gt=0, le=1_000_000)]
    unit: Literal["m2", "ft2"]

    @property
    def m2(self) -> float:
        """Square metres."""
        if self.unit == "ft2":
            return self.value * SQUARE_FOOT
        return self.value

    @property
    def ft2(self) -> float:
        """Square feet."""
        if self.unit == "ft2":
            return self.value
        return self.value / SQUARE_FOOT


class Want(Part):
    """A circuit wanted live during construction, and how much."""

    name: Name
    rank: Annotated[int, Field(ge=1, le=99)] = 5
    """1 is needed most."""
    circuit: Id | None = None
    """The circuit of the panel that would feed it; missing for a temporary one."""
    volt_amperes: VoltAmperes | None = None
    """What it draws; missing when nobody said."""
    volts: Annotated[float, Field(gt=0, le=1000)] = 120
    breaker_a: Amperes | None = None
    """Missing for a circuit of the panel, whose breaker is known."""
    continuous: bool = False
    """Whether it runs three hours or more, as heaters do."""


class Warming(Part):
    """A volume to be warmed by the heaters of the hookup."""

    volume_m3: Annotated[float, Field(gt=0, le=100_000)]
    from_c: Annotated[float, Field(ge=-60, le=60)]
    to_c: Annotated[float, Field(ge=-60, le=60)]
    loss_w_per_k: Annotated[float, Field(ge=0, le=100_000)] = 0
    """What its walls and openings lose for each kelvin, when somebody reckoned it."""


class Hookup(Part):
    """What is recorded of the construction hookup. A missing fact was not looked at."""

    service_complete: bool | None = None
    meter_base: bool | None = None
    panel_in_place: bool | None = None
    conductors_landed: bool | None = None
    """The conductors of the live circuits are brought in and landed."""
    others_made_safe: bool | None = None
    """Those not to be live are capped, taped and kept off the breakers."""
    bonded: bool | None = None
    electrode: bool | None = None
    cover_on: bool | None = None
    locked_off: bool | None = None
    """Breakers that are to stay off are locked and labelled."""
    ground_fault: bool | None = None
    """Construction receptacles have ground-fault protection."""
    max_circuits: Count | None = None
    """What the authority allows, when it says."""
    max_imbalance_a: Amperes | None = None
    """The most by which the two legs may differ, when somebody asks for one."""
    wants: tuple[Want, ...] = ()
    warming: Warming | None = None


class TemporaryReceptacle(Part):
    """A receptacle of the temporary service."""

    name: Name
    volts: Annotated[float, Field(gt=0, le=1000)] = 120
    amperes: Amperes = 20
    gfci: bool | None = None
    assured_program: bool = False
    """An assured equipment grounding conductor programme in writing stands in for GFCI."""
    tested_months_ago: Annotated[float, Field(ge=0, le=1000)] | None = None
    """How long ago it was tested under that programme; missing when it is not recorded yet."""


class TemporaryService(Part):
    """The pole or post that feeds the site until the house does."""

    rating_a: Amperes | None = None
    volts: Annotated[float, Field(gt=0, le=1000)] = 240
    on_it: tuple[Want, ...] = ()
    receptacles: tuple[TemporaryReceptacle, ...] = ()
    conductors_off_floor: bool | None = None
    support_mm: Length | None = None
    """The longest stretch between supports of overhead construction wiring."""
    lamps_guarded: bool | None = None
    disconnects: bool | None = None
    """Switches or plugs let each temporary circuit be cut off."""
    feeds_house: bool | None = None
    """Whether it is joined to the house's own panel."""


class Service(Part):
    """The service of the house and what its load calculation rests on."""

    floor_area: FloorArea | None = None
    """Ground and upper floors together."""
    basement: FloorArea | None = None
    basement_height_mm: Length | None = None
    volts: Annotated[float, Field(gt=0, le=1000)] = 240
    rating_a: Amperes | None = None
    conductor: Gauge | None = None
    material: Literal["copper", "aluminum"] | None = None
    electrode: Electrode | None = None
    heat_control: HeatControl | None = None
    interlocked: bool | None = None
    """Whether heating and cooling cannot run at one time."""
    supplementary_together: bool | None = None
    """Whether supplementary heat runs with the heat pump."""
    small_appliance_circuits: Count | None = None
    laundry_circuits: Count | None = None
    manufactured: bool = False
    """A manufactured home under the federal standard."""
    ambient_c: Annotated[float, Field(ge=-50, le=80)] | None = None
    """The hottest place that branch cables pass, an attic for one; missing counts as 30 °C."""
    hookup: Hookup | None = None
    temporary: TemporaryService | None = None

"""What a load calculation rests on, as a value: floor area, nameplates, circuits, controls.

A fact that is not recorded yet is None. Where the larger of its possible effects can be taken, the
calculation takes it and says so; where none can, the fact is a doubt, and a doubt never passes.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from config.messages.message import FloorSize, Text
from inspections.checker.house import House
from inspections.checker.house.power import Appliance
from inspections.checker.house.service import (
    SQUARE_FOOT,
    ApplianceKind,
    FloorArea,
    HeatControl,
    Service,
)
from inspections.checker.rulebook import Rulebook

from . import check_messages as says
from .rooms import drawn_m2

HEATING = frozenset({ApplianceKind.SPACE_HEATING, ApplianceKind.THERMAL_STORAGE})
COOKING = frozenset({ApplianceKind.RANGE, ApplianceKind.OVEN, ApplianceKind.COOKTOP})
CLIMATE = HEATING | {
    ApplianceKind.HEAT_PUMP,
    ApplianceKind.SUPPLEMENTARY_HEAT,
    ApplianceKind.COOLING,
}
MOTORS = frozenset(
    {
        ApplianceKind.DISPOSER,
        ApplianceKind.PUMP,
        ApplianceKind.FAN,
        ApplianceKind.FURNACE_BLOWER,
        ApplianceKind.HEAT_PUMP,
        ApplianceKind.COOLING,
    }
)


@dataclass(frozen=True, slots=True)
class Load:
    """One appliance by its nameplate, in volt-amperes."""

    id: str
    kind: ApplianceKind | None
    va: float
    volts: float | None = None
    motor: bool = False
    managed_to_va: float | None = None
    leg: str = ""
    """The leg of a single-pole load, where it is known: `A` or `B`."""

    @property
    def line_to_neutral(self) -> bool:
        """Whether its current returns on the neutral."""
        return self.volts is not None and self.volts < 150

    @property
    def turns(self) -> bool:
        """Whether a motor is its main load, by what was recorded or by its kind."""
        return self.motor or self.kind in MOTORS


@dataclass(frozen=True)
class LoadFacts:
    """The facts of one dwelling."""

    floor: FloorArea | None = None
    basement: FloorArea | None = None
    basement_height_mm: float | None = None
    loads: tuple[Load, ...] = ()
    volts: float = 240.0
    small_appliance_circuits: int | None = None
    laundry_circuits: int | None = None
    heat_control: HeatControl | None = None
    interlocked: bool | None = None
    supplementary_together: bool | None = None
    manufactured: bool = False
    rating_a: float | None = None
    conductor: str | None = None
    material: str | None = None
    electrode: str | None = None
    doubts: tuple[Text, ...] = field(default=())

    def of(self, *kinds: ApplianceKind) -> list[Load]:
        """The loads of those kinds."""
        loads: list[Load] = []
        for load in self.loads:
            if load.kind in kinds:
                loads.append(load)
        return loads

    def without(self, *kinds: ApplianceKind) -> list[Load]:
        """The loads of every other kind, and those whose kind is not recorded yet."""
        loads: list[Load] = []
        for load in self.loads:
            if load.kind not in kinds:
                loads.append(load)
        return loads


def facts_of(house: House, rulebook: Rulebook) -> LoadFacts:
    """The facts that a house file holds, with what is missing or doubtful among them."""
    service = house.service or Service()
    feeds = circuits_of_appliances(house)
    poles = {circuit.id: circuit.poles for circuit in house.circuits}
    legs = {circuit.id: leg_of(circuit.slots[0]) for circuit in house.circuits if circuit.slots}
    loads, doubts = [], list(_doubts(house, service, rulebook))
    for appliance in house.appliances:
        if appliance.volt_amperes is None:
            doubts.append(says.NO_VOLT_AMPERES(appliance=appliance.name))
            continue
        if appliance.kind is None:
            doubts.append(says.NO_KIND(appliance=appliance.name))
        circuit = feeds.get(appliance.id, "")
        leg = ""
        if poles.get(circuit) == 1:
            leg = legs.get(circuit, "")
        loads.append(_load(appliance, leg))
    return LoadFacts(
        floor=service.floor_area,
        basement=service.basement,
        basement_height_mm=service.basement_height_mm,
        loads=tuple(loads),
        volts=service.volts,
        small_appliance_circuits=service.small_appliance_circuits,
        laundry_circuits=service.laundry_circuits,
        heat_control=service.heat_control,
        interlocked=service.interlocked,
        supplementary_together=service.supplementary_together,
        manufactured=service.manufactured,
        rating_a=service.rating_a or _panel_rating(house),
        conductor=service.conductor,
        material=service.material,
        electrode=service.electrode,
        doubts=tuple(doubts),
    )


def leg_of(slot: int) -> str:
    """The leg that a space is on: rows alternate, odd spaces left and even right."""
    return "AB"[(slot - 1) // 2 % 2]


def _load(appliance: Appliance, leg: str) -> Load:
    return Load(
        id=appliance.name,
        kind=appliance.kind,
        va=appliance.volt_amperes or 0.0,
        volts=appliance.volts,
        motor=appliance.motor,
        managed_to_va=appliance.managed_to_va,
        leg=leg,
    )


def circuits_of_appliances(house: House) -> dict[str, str]:
    """The circuit of each appliance: its own word, or that of a power cable that ends at it."""
    circuits = {}
    for cable in house.cables:
        if cable.circuit and cable.kind.carries_power:
            for end in cable.ends:
                circuits[end] = cable.circuit
    for appliance in house.appliances:
        if appliance.circuit:
            circuits[appliance.id] = appliance.circuit
    return circuits


def _panel_rating(house: House) -> float | None:
    for panel in house.panels:
        if panel.kind == "service" and (panel.main_a or panel.rating_a):
            return panel.main_a or panel.rating_a
    return None


def _doubts(house: House, service: Service, book: Rulebook) -> Iterator[Text]:
    if service.floor_area is None:
        yield says.NO_FLOOR_AREA()
    for what, area in ((says.FLOOR_AREA, service.floor_area), (says.BASEMENT, service.basement)):
        if area is not None:
            yield from area_doubts(what(), area, book)
    if service.floor_area is not None:
        drawn = drawn_m2(house)
        whole = service.floor_area.m2 + (service.basement.m2 if service.basement else 0.0)
        ratio = book.value("floor-area.drawn_ratio")
        if drawn and not drawn / ratio <= whole <= drawn * ratio:
            yield says.DRAWN_OTHERWISE(entered=FloorSize(whole), drawn=FloorSize(drawn))


def area_doubts(what: Text, area: FloorArea, book: Rulebook) -> Iterator[Text]:
    """Why an area may have been entered in the other unit. It is flagged, never turned."""
    large, small = book["floor-area.doubtful_m2"], book["floor-area.doubtful_small_m2"]
    if area.unit == "m2" and area.m2 > large.value:
        yield says.LARGE_AREA(what=what, entered=area.value, most=large.value)
    if area.unit == "ft2" and area.m2 < small.value:
        least = round(small.value / SQUARE_FOOT)
        yield says.SMALL_AREA(what=what, entered=area.value, least=least)

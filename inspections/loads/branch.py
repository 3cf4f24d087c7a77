"""Branch circuits: load, breaker, conductor after derating, voltage drop of the home run."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Joined, Listed, Percent, Text, Value, VoltAmperes
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.cables import Cable
from inspections.checker.house.power import Circuit
from inspections.checker.house.service import ApplianceKind, Service
from inspections.checker.rulebook import Limit, Rulebook

from . import check_messages as says
from .check_messages import amps
from .conductors import SIZES, rank, size_words, up_to
from .drop import Drop
from .facts import circuits_of_appliances
from .line_messages import OVER_VOLTS
from .route import route, spread_drop
from .service import Check, worst

NO_OUTLETS = frozenset(
    {
        DeviceKind.SWITCH,
        DeviceKind.DIMMER,
        DeviceKind.FAN_CONTROL,
        DeviceKind.THERMOSTAT,
        DeviceKind.DISCONNECT,
    }
)
"""Devices that turn something on and draw nothing themselves."""
_Derated = tuple[float | None, Value, tuple[Limit, ...]]
SMALL_BREAKERS = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0)
"""Standard breakers below those of services, in amperes."""


@dataclass(frozen=True)
class Branch:
    """One circuit as it was wired, with what its parts come to."""

    circuit: Circuit
    volts: float
    connected_va: float | None
    """What is wired to it by nameplate; None where it feeds receptacles or lights alone."""
    continuous_va: float
    demand_a: float
    """The current that it is held against."""
    load_words: Text
    awg: str
    """Its thinnest conductor; empty when no cable is recorded."""
    derated_a: float | None
    derate_words: Value
    run_mm: float | None
    """From the panel to its farthest box along the cables; None when a length is missing."""
    drop: Drop | None
    checks: tuple[Check, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst of its checks."""
        verdicts = []
        for check in self.checks:
            verdicts.append(check.verdict)
        return worst(verdicts)


@dataclass(frozen=True)
class _Wired:
    """What the house holds of each circuit, gathered in one pass."""

    cables: dict[str, list[Cable]]
    loads: dict[str, list[tuple[float, bool]]]
    unknown: dict[str, list[str]]
    bundled: dict[str, tuple[int, str]]
    outlets: dict[str, dict[str, int]]
    """By circuit, how many outlets each box or appliance is."""


def branches(house: House, book: Rulebook) -> list[Branch]:
    """Every circuit of every power panel, in the order of the file."""
    wired = _gathered(house, book)
    every: list[Branch] = []
    for circuit in house.circuits:
        every.append(_branch(circuit, house, wired, book))
    return every


def _gathered(house: House, book: Rulebook) -> _Wired:
    cables, loads = defaultdict(list), defaultdict(list)
    unknown: defaultdict[str, list[str]] = defaultdict(list)
    for cable in house.cables:
        if cable.circuit and cable.kind.carries_power:
            cables[cable.circuit].append(cable)
    fed = circuits_of_appliances(house)
    for appliance in house.appliances:
        circuit = fed.get(appliance.id)
        if not circuit:
            continue
        watts = appliance.volt_amperes
        if watts is None:
            unknown[circuit].append(appliance.name)
            continue
        if appliance.kind is ApplianceKind.RANGE:
            watts = range_va(watts, book)
        loads[circuit].append((watts, bool(appliance.continuous)))
    return _Wired(cables, loads, unknown, _bundles(house), _outlets(house, fed))


def _outlets(house: House, fed: dict[str, str]) -> dict[str, dict[str, int]]:
    """By circuit, how many outlets each appliance and then each box is."""
    outlets: defaultdict[str, dict[str, int]] = defaultdict(dict)
    for appliance in house.appliances:
        if circuit := fed.get(appliance.id):
            outlets[circuit][appliance.id] = 1
    for box in house.boxes:
        for device in box.devices:
            if device.circuit and device.kind not in NO_OUTLETS:
                at = outlets[device.circuit]
                at[box.id] = at.get(box.id, 0) + 1
    return outlets


def range_va(nameplate: float, book: Rulebook) -> float:
    """What a range lays on its own branch circuit: never all of it burns at once."""
    base, over, share = (book.value(f"conductors.range_{x}") for x in ("va", "over_w", "over_pct"))
    return float(min(nameplate, base + max(0.0, nameplate - over) * share / 100))


def _bundles(house: House) -> dict[str, tuple[int, str]]:
    """The most current-carrying conductors beside each cable in one hole, and that hole."""
    by = {}
    for cable in house.cables:
        if cable.kind.carries_power:
            by[cable.id] = cable
    fullest: dict[str, tuple[int, str]] = {}
    for hole in house.holes:
        inside = []
        for name in hole.cables:
            if name in by:
                inside.append(by[name])
        if len(inside) < 3:
            continue
        count = sum(min(cable.insulated, 3) for cable in inside)
        for cable in inside:
            if count > fullest.get(cable.id, (0, ""))[0]:
                fullest[cable.id] = (count, hole.id)
    return fullest


def _branch(circuit: Circuit, house: House, wired: _Wired, book: Rulebook) -> Branch:
    service = house.service or Service()
    volts = service.volts
    if circuit.poles == 1:
        volts = service.volts / 2
    known = wired.loads.get(circuit.id, [])
    connected = None
    if known:
        connected = sum(va for va, _ in known)
    continuous = sum(va for va, runs in known if runs)
    demand, words = _demand(circuit, volts, connected, continuous, wired, book)
    cables = wired.cables.get(circuit.id, [])
    awg = _thinnest(cables)
    ampacity, derate_words, used = _derated(awg, cables, wired, service, book)
    way, outlets = route(circuit.panel, cables), wired.outlets.get(circuit.id, {})
    ohms = book.value("conductors.ohm_per_km_copper")
    drop = run = None
    if way:
        drop = spread_drop(way, outlets, demand, volts, ohms)
        run = way.far_mm
    checks = (
        *_load_checks(circuit, demand, words, wired),
        *_conductor_checks(circuit, awg, ampacity, derate_words, used, book),
        *_drop_checks(drop, run, awg, connected is None, book),
    )
    return Branch(
        circuit, volts, connected, continuous, demand, words, awg, ampacity, derate_words, run,
        drop, checks,
    )  # fmt: skip


def _thinnest(cables: list[Cable]) -> str:
    """The smallest of their conductors; empty where no size is recorded."""
    sizes = []
    for cable in cables:
        if cable.awg in SIZES:
            sizes.append(str(cable.awg))
    if not sizes:
        return ""
    return min(sizes, key=rank)


def _derated(
    awg: str, cables: list[Cable], wired: _Wired, service: Service, book: Rulebook
) -> _Derated:
    """What the conductor carries beside the others in the fullest hole of its cables."""
    if not awg:
        return None, says.NO_CABLE(), ()
    bundles = []
    for cable in cables:
        bundles.append(wired.bundled.get(cable.id, (0, "")))
    count, hole = max(bundles, default=(0, ""))
    celsius = 30.0
    if service.ambient_c is not None:
        celsius = service.ambient_c
    ampacity, words, used = derated_ampacity(awg, count, celsius, book)
    if hole:
        words = Joined((words, says.IN_HOLE(hole=hole)))
    return ampacity, words, used


def _demand(
    circuit: Circuit,
    volts: float,
    connected: float | None,
    continuous: float,
    wired: _Wired,
    book: Rulebook,
) -> tuple[float, Text]:
    share = book.value("conductors.continuous_pct")
    if connected is None:
        part, each = book.value("hookup.continuous_pct"), book.value("conductors.outlet_a")
        full = circuit.breaker_a * part / 100
        outlets = sum(wired.outlets.get(circuit.id, {}).values())
        if outlets > 1 and circuit.poles == 1 and outlets * each < full:
            return outlets * each, says.OUTLETS_AT(n=outlets, each=Amperes(each))
        if outlets:
            return full, says.OUTLETS_SHARE(n=outlets, share=Percent(part), amps=amps(full))
        return full, says.NOTHING_ON_IT(share=Percent(part), amps=amps(full))
    rest = connected - continuous
    current = (rest + continuous * share / 100) / volts
    if not continuous:
        figure = VoltAmperes(round(connected))
        return current, OVER_VOLTS(figure=figure, volts=volts, amps=amps(current))
    return current, says.CONTINUOUS(
        rest=VoltAmperes(round(rest)),
        share=Percent(share),
        figure=VoltAmperes(round(continuous)),
        volts=volts,
        amps=amps(current),
    )


def derated_ampacity(awg: str, count: int, celsius: float, book: Rulebook) -> _Derated:
    """Ampacity of copper from the 90 °C column after bundling and heat, capped at 60 °C.

    `count` is how many current-carrying conductors lie together.
    """
    high, low = book["conductors.copper_90_a"], book["conductors.copper_60_a"]
    if awg not in high.value:
        return None, says.NOT_IN_TABLE(size=size_words(awg)), ()
    bundling, heat = book["conductors.bundled_pct"], book["conductors.ambient_90_pct"]
    together, warmth = up_to(bundling.value, max(count, 1)), up_to(heat.value, celsius)
    if warmth is None:
        return None, says.TOO_HOT(celsius=celsius), (heat,)
    current = high.value[awg] * together / 100 * warmth / 100
    words = [says.AT_90(amps=Amperes(high.value[awg]))]
    if together != 100:
        words.append(says.TOGETHER_SHARE(share=Percent(together), n=count))
    if warmth != 100:
        words.append(says.HEAT_SHARE(share=Percent(warmth), celsius=celsius))
    words.append(says.CAPPED(amps=amps(current), most=Amperes(low.value[awg])))
    used = (high, bundling, heat, low)
    return min(current, low.value[awg]), Joined(tuple(words)), used


def breaker_fits(
    awg: str, material: str, ampacity: float, breaker_a: float, book: Rulebook
) -> bool:
    """Whether a breaker protects a conductor of that ampacity.

    Small conductors have limits of their own; above them the next standard breaker will do.
    """
    most = book.value(f"conductors.small_{material}_a").get(awg)
    if most is not None:
        return bool(breaker_a <= min(most, ampacity) + 1e-9)
    floats = []
    for x in book.value("service.sizes_a"):
        floats.append(float(x))
    sizes = sorted({*SMALL_BREAKERS, *floats})
    return breaker_a <= next((x for x in sizes if x >= ampacity - 1e-9), ampacity)


def _load_checks(circuit: Circuit, current: float, words: Text, wired: _Wired) -> Iterator[Check]:
    if missing := wired.unknown.get(circuit.id):
        told = says.MISSING_LOADS(appliances=Listed(tuple(missing)))
        yield Check(says.LOAD(), Verdict.INFO_NEEDED, told)
    enough = current <= circuit.breaker_a + 1e-9
    verdict = Verdict.NOT_TO_CODE
    if enough:
        verdict = Verdict.OK
    told = says.ON_BREAKER(load=words, breaker=Amperes(circuit.breaker_a))
    yield Check(says.LOAD(), verdict, told)


def _conductor_checks(
    circuit: Circuit,
    awg: str,
    ampacity: float | None,
    words: Value,
    used: tuple[Limit, ...],
    book: Rulebook,
) -> Iterator[Check]:
    what, breaker = says.CONDUCTOR(), Amperes(circuit.breaker_a)
    if ampacity is None:
        yield Check(what, Verdict.INFO_NEEDED, words, used)
        return
    small = book["conductors.small_copper_a"]
    most = small.value.get(awg)
    if most is not None and circuit.breaker_a > most:
        told = says.SMALL_CONDUCTOR(breaker=breaker, size=size_words(awg), most=Amperes(most))
        yield Check(what, Verdict.NOT_TO_CODE, told, (small,))
        return
    fits = breaker_fits(awg, "copper", ampacity, circuit.breaker_a, book)
    told = says.CONDUCTOR_WORKING(size=size_words(awg), working=words, breaker=breaker)
    yield Check(what, Verdict.OK if fits else Verdict.NOT_TO_CODE, told, used)


def _drop_checks(
    drop: Drop | None, run: float | None, awg: str, assumed: bool, book: Rulebook
) -> Iterator[Check]:
    limit, asked = book["voltage-drop.branch_pct"], book["voltage-drop.required"]
    what, most = says.VOLTAGE_DROP(), limit.value
    if drop is None:
        if asked.value:
            yield Check(what, Verdict.INFO_NEEDED, _no_drop(run, awg), (limit,))
        return
    if drop.percent <= most + 1e-9:
        yield Check(what, Verdict.OK, drop.working, (limit,))
        return
    verdict, told = Verdict.OK, says.DROP_ADVICE
    if asked.value:
        verdict, told = Verdict.NOT_TO_CODE, says.DROP_OVER
        if assumed:
            verdict, told = Verdict.VERIFY, says.DROP_ASSUMED
    yield Check(what, verdict, told(working=drop.working, most=most), (limit, asked))


def _no_drop(run: float | None, awg: str) -> Text:
    """What is missing for a voltage drop."""
    if run is None:
        return says.NO_LENGTHS()
    if not awg:
        return says.NO_CABLE_SIZE()
    return says.NO_RESISTANCE(size=size_words(awg))

"""Branch circuits: load, breaker, conductor after derating, voltage drop of the home run."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.cables import Cable
from inspections.checker.house.power import Circuit
from inspections.checker.house.service import ApplianceKind, Service
from inspections.checker.rulebook import Limit, Rulebook
from inspections.checker.words import plural

from .conductors import SIZES, rank, size_words, up_to
from .drop import Drop
from .facts import circuits_of_appliances
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
_Derated = tuple[float | None, str, tuple[Limit, ...]]
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
    load_words: str
    awg: str
    """Its thinnest conductor; empty when no cable is recorded."""
    derated_a: float | None
    derate_words: str
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
        return None, "no cable recorded", ()
    bundles = []
    for cable in cables:
        bundles.append(wired.bundled.get(cable.id, (0, "")))
    count, hole = max(bundles, default=(0, ""))
    celsius = 30.0
    if service.ambient_c is not None:
        celsius = service.ambient_c
    ampacity, words, used = derated_ampacity(awg, count, celsius, book)
    if hole:
        words += f" (hole {hole})"
    return ampacity, words, used


def _demand(
    circuit: Circuit,
    volts: float,
    connected: float | None,
    continuous: float,
    wired: _Wired,
    book: Rulebook,
) -> tuple[float, str]:
    share = book.value("conductors.continuous_pct")
    if connected is None:
        part, each = book.value("hookup.continuous_pct"), book.value("conductors.outlet_a")
        full = circuit.breaker_a * part / 100
        outlets = sum(wired.outlets.get(circuit.id, {}).values())
        if outlets > 1 and circuit.poles == 1 and outlets * each < full:
            return outlets * each, f"{outlets} outlets, {each:g} A each taken"
        what = "nothing recorded on it"
        if outlets:
            what = plural(outlets, "outlet")
        return full, f"{what}: {part:g} % of the breaker taken, {full:.1f} A"
    rest = connected - continuous
    amps = (rest + continuous * share / 100) / volts
    if not continuous:
        return amps, f"{connected:,.0f} VA / {volts:g} V = {amps:.1f} A"
    return amps, (
        f"({rest:,.0f} VA + {share:g} % of {continuous:,.0f} VA continuous) / {volts:g} V = "
        f"{amps:.1f} A"
    )


def derated_ampacity(awg: str, count: int, celsius: float, book: Rulebook) -> _Derated:
    """Ampacity of copper from the 90 °C column after bundling and heat, capped at 60 °C.

    `count` is how many current-carrying conductors lie together.
    """
    high, low = book["conductors.copper_90_a"], book["conductors.copper_60_a"]
    if awg not in high.value:
        return None, f"{size_words(awg)} is not in the tables", ()
    bundling, heat = book["conductors.bundled_pct"], book["conductors.ambient_90_pct"]
    together, warmth = up_to(bundling.value, max(count, 1)), up_to(heat.value, celsius)
    if warmth is None:
        return None, f"{celsius:g} °C is past the table", (heat,)
    amps = high.value[awg] * together / 100 * warmth / 100
    words = f"{high.value[awg]:g} A at 90 °C"
    if together != 100:
        words += f" × {together:g} % for {count} conductors together"
    if warmth != 100:
        words += f" × {warmth:g} % at {celsius:g} °C"
    words += f" = {amps:.1f} A; no more than {low.value[awg]:g} A at 60 °C"
    return min(amps, low.value[awg]), words, (high, bundling, heat, low)


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


def _load_checks(circuit: Circuit, amps: float, words: str, wired: _Wired) -> Iterator[Check]:
    if missing := wired.unknown.get(circuit.id):
        says = f"nobody recorded the volt-amperes of {', '.join(missing)}"
        yield Check("Load", Verdict.UNKNOWN, says)
    enough = amps <= circuit.breaker_a + 1e-9
    verdict = Verdict.SHORT
    if enough:
        verdict = Verdict.MEETS
    yield Check("Load", verdict, f"{words} on a {circuit.breaker_a:g} A breaker")


def _conductor_checks(
    circuit: Circuit,
    awg: str,
    ampacity: float | None,
    words: str,
    used: tuple[Limit, ...],
    book: Rulebook,
) -> Iterator[Check]:
    if ampacity is None:
        yield Check("Conductor", Verdict.UNKNOWN, words, used)
        return
    small = book["conductors.small_copper_a"]
    most = small.value.get(awg)
    if most is not None and circuit.breaker_a > most:
        yield Check(
            "Conductor",
            Verdict.SHORT,
            f"a {circuit.breaker_a:g} A breaker on {size_words(awg)} copper, which takes "
            f"{most:g} A at most; thicker conductors or a {most:g} A breaker",
            (small,),
        )
        return
    fits = breaker_fits(awg, "copper", ampacity, circuit.breaker_a, book)
    says = f"{size_words(awg)} copper: {words}; breaker {circuit.breaker_a:g} A"
    yield Check("Conductor", Verdict.MEETS if fits else Verdict.SHORT, says, used)


def _drop_checks(
    drop: Drop | None, run: float | None, awg: str, assumed: bool, book: Rulebook
) -> Iterator[Check]:
    limit, asked = book["voltage-drop.branch_pct"], book["voltage-drop.required"]
    if drop is None:
        if asked.value:
            if run is None:
                what = "cable lengths"
            else:
                what = f"the resistance of {awg or 'its cable'}"
            yield Check("Voltage drop", Verdict.UNKNOWN, f"{what} not recorded", (limit,))
        return
    if drop.percent <= limit.value + 1e-9:
        yield Check("Voltage drop", Verdict.MEETS, drop.working, (limit,))
    elif asked.value and assumed:
        says = f"{drop.working}; {limit.value:g} % at most, by a load that was assumed: look at it"
        yield Check("Voltage drop", Verdict.LOOK, says, (limit, asked))
    elif asked.value:
        says = f"{drop.working}; {limit.value:g} % at most"
        yield Check("Voltage drop", Verdict.SHORT, says, (limit, asked))
    else:
        says = f"{drop.working}; {limit.value:g} % is advised, and is no rule"
        yield Check("Voltage drop", Verdict.MEETS, says, (limit, asked))

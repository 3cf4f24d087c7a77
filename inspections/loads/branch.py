"""Branch circuits: load, breaker, conductor after derating, voltage drop of the home run."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from inspections.checker import House, Limit, Rulebook, Verdict
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.cables import Cable
from inspections.checker.house.power import Circuit
from inspections.checker.house.service import Service

from .conductors import SIZES, rank, size_words, up_to
from .drop import Drop, voltage_drop
from .facts import circuits_of_appliances
from .service import Check

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
        found = {check.verdict for check in self.checks}
        return next((x for x in (Verdict.SHORT, Verdict.UNKNOWN) if x in found), Verdict.MEETS)


@dataclass(frozen=True)
class _Wired:
    """What the house holds of each circuit, gathered in one pass."""

    cables: dict[str, list[Cable]]
    loads: dict[str, list[tuple[float, bool]]]
    unknown: dict[str, list[str]]
    bundled: dict[str, tuple[int, str]]
    outlets: dict[str, int]


def branches(house: House, book: Rulebook) -> list[Branch]:
    """Every circuit of every power panel, in the order of the file."""
    wired = _gathered(house)
    return [_branch(circuit, house, wired, book) for circuit in house.circuits]


def _gathered(house: House) -> _Wired:
    cables, loads = defaultdict(list), defaultdict(list)
    unknown: defaultdict[str, list[str]] = defaultdict(list)
    outlets: defaultdict[str, int] = defaultdict(int)
    for cable in house.cables:
        if cable.circuit and cable.kind.carries_power:
            cables[cable.circuit].append(cable)
    fed = circuits_of_appliances(house)
    for appliance in house.appliances:
        if circuit := fed.get(appliance.id):
            if appliance.volt_amperes is None:
                unknown[circuit].append(appliance.name)
            else:
                loads[circuit].append((appliance.volt_amperes, bool(appliance.continuous)))
    for box in house.boxes:
        for device in box.devices:
            if device.circuit and device.kind in (DeviceKind.RECEPTACLE, DeviceKind.LUMINAIRE):
                outlets[device.circuit] += 1
    return _Wired(cables, loads, unknown, _bundles(house), outlets)


def _bundles(house: House) -> dict[str, tuple[int, str]]:
    """The most current-carrying conductors beside each cable in one hole, and that hole."""
    by = {cable.id: cable for cable in house.cables if cable.kind.carries_power}
    found: dict[str, tuple[int, str]] = {}
    for hole in house.holes:
        inside = [by[name] for name in hole.cables if name in by]
        if len(inside) < 3:
            continue
        count = sum(min(cable.insulated, 3) for cable in inside)
        for cable in inside:
            if count > found.get(cable.id, (0, ""))[0]:
                found[cable.id] = (count, hole.id)
    return found


def _branch(circuit: Circuit, house: House, wired: _Wired, book: Rulebook) -> Branch:
    service = house.service or Service()
    volts = service.volts if circuit.poles > 1 else service.volts / 2
    known = wired.loads.get(circuit.id, [])
    connected = sum(va for va, _ in known) if known else None
    continuous = sum(va for va, runs in known if runs)
    demand, words = _demand(circuit, volts, connected, continuous, wired, book)
    cables = wired.cables.get(circuit.id, [])
    sizes = [str(cable.awg) for cable in cables if cable.awg in SIZES]
    awg = min(sizes, key=rank) if sizes else ""
    ampacity, derate_words, used = _derated(awg, cables, wired, service, book)
    run = _run_mm(circuit, cables)
    drop = _drop(volts, demand, run, awg, book)
    checks = (
        *_load_checks(circuit, demand, words, wired),
        *_conductor_checks(circuit, awg, ampacity, derate_words, used, book),
        *_drop_checks(drop, run, awg, book),
    )
    return Branch(
        circuit, volts, connected, continuous, demand, words, awg, ampacity, derate_words, run,
        drop, checks,
    )  # fmt: skip


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
        part = book.value("hookup.continuous_pct")
        amps = circuit.breaker_a * part / 100
        outlets = wired.outlets.get(circuit.id, 0)
        what = f"{outlets} outlets" if outlets else "nothing recorded on it"
        return amps, f"{what}: {part:g} % of the breaker taken, {amps:.1f} A"
    rest = connected - continuous
    amps = (rest + continuous * share / 100) / volts
    if not continuous:
        return amps, f"{connected:,.0f} VA / {volts:g} V = {amps:.1f} A"
    return amps, (
        f"({rest:,.0f} VA + {share:g} % of {continuous:,.0f} VA continuous) / {volts:g} V = "
        f"{amps:.1f} A"
    )


def _derated(
    awg: str, cables: list[Cable], wired: _Wired, service: Service, book: Rulebook
) -> tuple[float | None, str, tuple[Limit, ...]]:
    """Ampacity from the 90 °C column after bundling and heat, never over the 60 °C column."""
    if not awg:
        return None, "no cable recorded", ()
    high, low = book["conductors.copper_90_a"], book["conductors.copper_60_a"]
    if awg not in high.value:
        return None, f"{size_words(awg)} is not in the tables", ()
    count, hole = max((wired.bundled.get(cable.id, (0, "")) for cable in cables), default=(0, ""))
    bundling, heat = book["conductors.bundled_pct"], book["conductors.ambient_90_pct"]
    together = up_to(bundling.value, max(count, 1))
    celsius = 30.0 if service.ambient_c is None else service.ambient_c
    warmth = up_to(heat.value, celsius)
    if warmth is None:
        return None, f"{celsius:g} °C is past the table", (heat,)
    amps = high.value[awg] * together / 100 * warmth / 100
    words = f"{high.value[awg]:g} A at 90 °C"
    if count > 3:
        words += f" × {together:g} % for {count} conductors in hole {hole}"
    if warmth != 100:
        words += f" × {warmth:g} % at {celsius:g} °C"
    final = min(amps, low.value[awg])
    words += f" = {amps:.1f} A; no more than {low.value[awg]:g} A at 60 °C"
    return final, words, (high, bundling, heat, low)


def _run_mm(circuit: Circuit, cables: list[Cable]) -> float | None:
    """The longest way from the panel along cables, or None when one has no length."""
    if not cables or any(cable.length_mm is None for cable in cables):
        return None
    reach = {circuit.panel: 0.0}
    edges = defaultdict(list)
    for cable in cables:
        edges[cable.ends[0]].append((cable.ends[1], cable.length_mm or 0.0))
        edges[cable.ends[1]].append((cable.ends[0], cable.length_mm or 0.0))
    ahead = [circuit.panel]
    while ahead:
        here = ahead.pop()
        for there, length in edges[here]:
            if there not in reach or reach[here] + length < reach[there]:
                reach[there] = reach[here] + length
                ahead.append(there)
    return max(reach.values()) or None


def _drop(volts: float, amps: float, run: float | None, awg: str, book: Rulebook) -> Drop | None:
    table = book.value("conductors.ohm_per_km_copper")
    if run is None or awg not in table:
        return None
    return voltage_drop(volts, amps, run, table[awg])


def _load_checks(circuit: Circuit, amps: float, words: str, wired: _Wired) -> Iterator[Check]:
    if missing := wired.unknown.get(circuit.id):
        says = f"nobody recorded the volt-amperes of {', '.join(missing)}"
        yield Check("Load", Verdict.UNKNOWN, says)
    enough = amps <= circuit.breaker_a + 1e-9
    verdict = Verdict.MEETS if enough else Verdict.SHORT
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
    # The next standard breaker above an ampacity that is none may protect it (240.4(B), 14-104).
    sizes = sorted(
        float(x) for x in (*book.value("service.sizes_a"), 15, 20, 25, 30, 35, 40, 45, 50)
    )
    allowed = ampacity if most is not None else next((x for x in sizes if x >= ampacity), ampacity)
    fits = circuit.breaker_a <= allowed + 1e-9
    yield Check(
        "Conductor",
        Verdict.MEETS if fits else Verdict.SHORT,
        f"{size_words(awg)} copper: {words}; breaker {circuit.breaker_a:g} A",
        used,
    )


def _drop_checks(drop: Drop | None, run: float | None, awg: str, book: Rulebook) -> Iterator[Check]:
    limit, asked = book["voltage-drop.branch_pct"], book["voltage-drop.required"]
    if drop is None:
        if asked.value:
            what = "cable lengths" if run is None else f"the resistance of {awg or 'its cable'}"
            yield Check("Voltage drop", Verdict.UNKNOWN, f"{what} not recorded", (limit,))
        return
    if drop.percent <= limit.value + 1e-9:
        yield Check("Voltage drop", Verdict.MEETS, drop.working, (limit,))
    elif asked.value:
        says = f"{drop.working}; {limit.value:g} % at most"
        yield Check("Voltage drop", Verdict.SHORT, says, (limit, asked))
    else:
        says = f"{drop.working}; {limit.value:g} % is advised, and is no rule"
        yield Check("Voltage drop", Verdict.MEETS, says, (limit, asked))

"""Circuits for what has none: the fewest breakers, their protection and their panel spaces.

What the rulebook keeps circuits for comes first; the rest is spread over general circuits by the
rooms it is in. The fewest is the number of outlets by the most that a circuit may have, rounded
up, or what the rulebook asks if that is more.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from config.messages.message import Amperes, Joined, Value
from inspections.checker.asking.receptacles import serves_counter
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.parts import Gauge
from inspections.checker.house.power import Circuit, Panel, PanelKind
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode
from inspections.loads.check_messages import BREAKER

from . import proposal_messages as says
from .proposal import Fact, Found, Proposal, ProposalKind, Unsolved
from .protection import protected
from .slots import slotted
from .taps import Tap, TapUse, named_of, taps_of
from .wants import Wants

GENERAL_A, KITCHEN_A = 15.0, 20.0
OWN = {"range": (40.0, 2), "dryer": (30.0, 2), "microwave": (20.0, 1)}
"""Breaker and poles of an appliance by what its receptacle is for; common practice, no source."""
OWN_A = 15.0
SIZES = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100)
HIGH_VOLTS = 200
SHARE = 1.25  # of a load that runs for long
RULED = {
    TapUse.LAUNDRY: "laundry-circuit.breaker_a",
    TapUse.BATH: "bathroom-circuit.breaker_a",
    TapUse.GARAGE: "garage-circuit.breaker_a",
    TapUse.OUTDOOR: "outdoor-circuit.breaker_a",
}
WORDS = {
    TapUse.COUNTER: "Kitchen counter",
    TapUse.SMALL: "Small appliances",
    TapUse.LAUNDRY: "Laundry",
    TapUse.BATH: "Bathroom receptacles",
    TapUse.GARAGE: "Garage",
    TapUse.OUTDOOR: "Outdoors",
}


@dataclass(frozen=True, slots=True)
class Group:
    """The taps of one circuit to be."""

    use: TapUse
    taps: tuple[Tap, ...]
    breaker_a: float
    poles: int = 1
    name: str = ""
    proof: Value = ""

    @property
    def outlets(self) -> int:
        """How many outlets it would have."""
        total = 0
        for tap in self.taps:
            total += tap.outlets
        return total


def propose_circuits(
    house: House, book: Rulebook, wants: Wants, ours: Collection[str] = ()
) -> list[Found]:
    """A proposal for each circuit that is missing.

    `ours` are the boxes that were proposed before: what goes into them is ours to choose.
    """
    taps = taps_of(house, book)
    if not taps:
        return []
    panel = service_of(house)
    if panel is None:
        return [Unsolved("panel", says.NO_PANEL(), ProposalKind.CIRCUITS)]
    site = HouseByCode(house, book)
    found: list[Found] = []
    groups = []
    for made in _grouped(site, taps, wants):
        if isinstance(made, Unsolved):
            found.append(made)
        else:
            groups.append(made)
    named = _named(house, site, groups, panel)
    plain = []
    for circuit, group in named:
        plain.append(_proposal(site, circuit, group, ours))
    plain = protected(house, book, plain)
    return [*found, *slotted(house, panel, plain)]


def service_of(house: House) -> Panel | None:
    """The panel that new circuits come from: the service's, else the first that has power."""
    power = []
    for each in house.panels:
        if each.kind is not PanelKind.COMMUNICATIONS:
            power.append(each)
    for p in power:
        if p.kind is PanelKind.SERVICE:
            return p
    if power:
        return power[0]
    return None


def most_outlets(book: Rulebook, breaker_a: float, wants: Wants) -> int:
    """The most outlets on a circuit: by the code, else the shop's own figure."""
    flat, each = book.value("outlets-per-circuit.most"), book.value("outlets-per-circuit.each_a")
    if flat is not None:
        return int(flat)
    if each is not None:
        return int(breaker_a * 0.8 / each + 1e-9)
    return wants.outlets_per_circuit


def _grouped(site: HouseByCode, taps: Sequence[Tap], wants: Wants) -> Iterator[Group | Unsolved]:
    by_use: dict[TapUse, list[Tap]] = {}
    for tap in taps:
        by_use.setdefault(tap.use, []).append(tap)
    for tap in by_use.pop(TapUse.OWN, []):
        yield _own(site, tap)
    yield from _counters(site, by_use.pop(TapUse.COUNTER, []))
    yield from _small(site, by_use.pop(TapUse.SMALL, []), wants)
    for use, limit in RULED.items():
        if mine := by_use.pop(use, []):
            breaker = float(site.rulebook.value(limit))
            yield from _packed(site, use, mine, breaker, wants)
    if rest := by_use.pop(TapUse.GENERAL, []):
        yield from _packed(site, TapUse.GENERAL, _with_light(rest), GENERAL_A, wants)


def _own(site: HouseByCode, tap: Tap) -> Group | Unsolved:
    name = named_of(site, tap)
    proof = says.OWN_CIRCUIT()
    if not tap.appliance:
        breaker, poles = OWN.get(name.lower(), (OWN_A, 1))
        return Group(TapUse.OWN, (tap,), breaker, poles, name, proof)
    appliance = next(a for a in site.house.appliances if a.id == tap.appliance)
    if appliance.volt_amperes is None or appliance.volts is None:
        return Unsolved(tap.appliance, says.NO_DRAW(appliance=name), ProposalKind.CIRCUITS)
    amps = max(appliance.volt_amperes / appliance.volts * SHARE, 1.0)
    size = next((float(size) for size in SIZES if size >= amps - 1e-9), None)
    if size is None:
        why = says.TOO_LARGE(amps=Amperes(round(amps)))
        return Unsolved(tap.appliance, why, ProposalKind.CIRCUITS)
    poles = 1
    if appliance.volts >= HIGH_VOLTS:
        poles = 2
    spare = Joined((says.QUARTER(amps=Amperes(round(amps, 1))), proof))
    return Group(TapUse.OWN, (tap,), size, poles, name, spare)


def _counters(site: HouseByCode, taps: list[Tap]) -> Iterator[Group]:
    """Two or fewer counter receptacles on a circuit, neighbours on different ones."""
    book = site.rulebook
    for room in dict.fromkeys(tap.room for tap in taps):
        mine = []
        for tap in taps:
            if tap.room == room:
                mine.append(tap)
        most, asked = book.value("counter-circuits.most"), book.value("counter-circuits.circuits")
        count = max(ceil(len(mine) / most), asked if len(mine) > 1 else 1)
        proof = says.COUNTER_CIRCUITS(n=len(mine), most=most, required=asked, circuits=count)
        for number in range(count):
            dealt = tuple(mine[number::count])
            yield Group(TapUse.COUNTER, dealt, KITCHEN_A, proof=proof)


def _small(site: HouseByCode, taps: list[Tap], wants: Wants) -> Iterator[Group]:
    """Small-appliance circuits, dealt so that as many as are asked reach each counter."""
    if not taps:
        return
    book = site.rulebook
    asked = book.value("small-appliance-circuits.circuits")
    breaker = book.value("small-appliance-circuits.breaker_a")
    most = most_outlets(book, breaker, wants)
    over_counters: list[Tap] = []
    rest: list[Tap] = []
    for tap in taps:
        if serves_counter(site, site.boxes[tap.devices[0][0]]):
            over_counters.append(tap)
        else:
            rest.append(tap)
    count = max(ceil(len(taps) / most), asked)
    over_counters.sort(key=lambda tap: tap.room)
    proof = says.SMALL_CIRCUITS(n=len(taps), most=most, required=asked, circuits=count)
    for number in range(count):
        if dealt := [*over_counters, *rest][number::count]:
            yield Group(TapUse.SMALL, tuple(dealt), breaker, proof=proof)


def _with_light(taps: list[Tap]) -> list[Tap]:
    """The alarms put with the first light, so that a failure of their circuit is noticed."""
    alarms = None
    for tap in taps:
        if tap.alarms:
            alarms = tap
            break
    light = None
    for tap in taps:
        if tap.lit:
            light = tap
            break
    if alarms is None or light is None:
        return taps
    both = replace(
        light,
        devices=(*light.devices, *alarms.devices),
        outlets=light.outlets + alarms.outlets,
        alarms=True,
    )
    joined: list[Tap] = []
    for tap in taps:
        if tap is not alarms:
            joined.append(both if tap is light else tap)
    return joined


def _packed(
    site: HouseByCode, use: TapUse, taps: list[Tap], breaker: float, wants: Wants
) -> Iterator[Group]:
    """As few circuits as hold all: filled room by room, or largest first if that is fewer."""
    most = most_outlets(site.rulebook, breaker, wants)
    total = 0
    for tap in taps:
        total += tap.outlets
    bound = max(1, ceil(total / most))
    bins = _in_turn(taps, most)
    if len(bins) > bound:
        bins = min(bins, _largest_first(taps, most), key=len)
    proof: Value = says.OUTLETS(n=total, most=most, bound=bound)
    if len(bins) > bound:
        proof = Joined((proof, says.KEPT_TOGETHER(n=len(bins))))
    for each in bins:
        yield Group(use, tuple(each), breaker, proof=proof)


def _in_turn(taps: Sequence[Tap], most: int) -> list[list[Tap]]:
    bins: list[list[Tap]] = [[]]
    for tap in taps:
        if sum(t.outlets for t in bins[-1]) + tap.outlets > most and bins[-1]:
            bins.append([])
        bins[-1].append(tap)
    return bins


def _largest_first(taps: Sequence[Tap], most: int) -> list[list[Tap]]:
    bins: list[list[Tap]] = []
    for tap in sorted(taps, key=lambda tap: -tap.outlets):
        roomy = _first_with_room(bins, most - tap.outlets)
        if roomy is None:
            bins.append([tap])
        else:
            roomy.append(tap)
    return bins


def _first_with_room(bins: Sequence[list[Tap]], most: int) -> list[Tap] | None:
    """The first circuit with no more outlets than that."""
    for each in bins:
        if sum(tap.outlets for tap in each) <= most:
            return each
    return None


def _named(
    house: House, site: HouseByCode, groups: Sequence[Group], panel: Panel
) -> Iterator[tuple[Circuit, Group]]:
    ids = _free_ids(house)
    counts: dict[str, int] = {}
    for group in groups:
        name = group.name or WORDS.get(group.use) or _rooms(site, group)
        counts[name] = counts.get(name, 0) + 1
        if counts[name] == 1:
            said = name
        else:
            said = f"{name} {counts[name]}"
        circuit = Circuit(
            id=next(ids),
            panel=panel.id,
            name=said[:120],
            breaker_a=group.breaker_a,
            poles=group.poles,
        )
        yield circuit, group


def _free_ids(house: House) -> Iterator[str]:
    taken = set()
    for circuit in house.circuits:
        taken.add(circuit.id)
    for number in range(1, 500):
        name = f"n{number}"
        if name not in taken:
            yield name


def _rooms(site: HouseByCode, group: Group) -> str:
    names: dict[str, None] = {}
    for tap in group.taps:
        names[site.rooms[tap.room].name] = None
    return ", ".join(list(names)[:2]) + (" and more" if len(names) > 2 else "")


def _proposal(site: HouseByCode, circuit: Circuit, group: Group, ours: Collection[str]) -> Proposal:
    facts: list[Fact] = []
    for tap in group.taps:
        if tap.appliance:
            facts.append(Fact(("appliances", tap.appliance), "circuit", circuit.id))
        for box, index in tap.devices:
            path = ("boxes", box, "devices", index)
            device = site.boxes[box].devices[index]
            facts.append(Fact(path, "circuit", circuit.id))
            if box in ours and device.kind is DeviceKind.RECEPTACLE and device.amperes is None:
                facts.append(Fact(path, "amperes", _receptacle_a(site, circuit, group)))
    told = says.CIRCUIT(
        name=circuit.name,
        breaker=BREAKER(amps=Amperes(circuit.breaker_a), poles=circuit.poles),
        size=f"{awg_for(site.rulebook, circuit.breaker_a)} AWG",
        n=group.outlets,
    )
    return Proposal(
        circuit.id,
        (),
        told,
        group.proof,
        ProposalKind.CIRCUITS,
        circuits=(circuit,),
        facts=tuple(facts),
    )


def _receptacle_a(site: HouseByCode, circuit: Circuit, group: Group) -> float:
    """The rating of a receptacle for a breaker: what the rulebook asks at the least."""
    least = site.rulebook.value("receptacle-ratings.least_a", {})
    row = next((row for row in least if float(row) >= circuit.breaker_a), None)
    rated = circuit.breaker_a
    if row:
        rated = float(least[row])
    if group.use is TapUse.COUNTER:
        return KITCHEN_A
    return max(rated, 15.0)


def awg_for(book: Rulebook, breaker_a: float) -> Gauge:
    """The thinnest copper conductor of sheathed cable that the breaker may protect."""
    small = book.value("conductor-and-breaker.small_a", {"14": 15, "12": 20, "10": 30})
    sheathed = book.value("conductor-and-breaker.sheathed_a", {"8": 40, "6": 60})
    by_amps = []
    for awg, amps in {**sheathed, **small}.items():
        by_amps.append((amps, awg))
    rows: list[tuple[float, Gauge]] = sorted(by_amps)
    for amps, awg in rows:
        if amps >= breaker_a:
            return awg
    return rows[-1][1]

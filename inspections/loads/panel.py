"""A panel: its spaces, legs and checks, and the best arrangement of its circuits."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inspections.checker import House, Rulebook, Verdict
from inspections.checker.house.power import Circuit, Panel, PanelKind
from inspections.checker.house.service import HeatControl, Service

from .balance import Balance, CannotBalance, Single, balance
from .branch import Branch, branches
from .conductors import Sized, bonding_conductor, feeder_conductor, up_to
from .directory import directory
from .facts import leg_of
from .service import Check, worst


@dataclass(frozen=True, slots=True)
class PanelSpace:
    """A space of a panel and what is in it; a tandem breaker has two halves in one."""

    slot: int
    leg: str
    half: str
    circuit: str
    """Empty where the space is free."""


@dataclass(frozen=True)
class PanelSchedule:
    """One panel with what it feeds."""

    panel: Panel
    branches: tuple[Branch, ...]
    directory: dict[str, str]
    """By circuit, what its breaker turns off, in the words of the panel card."""
    places: tuple[PanelSpace, ...]
    a_va: int
    b_va: int
    best: Balance | None
    best_places: dict[str, tuple[int, ...]]
    """Where the best arrangement puts each circuit that it moves or places."""
    checks: tuple[Check, ...]
    sized: tuple[Sized, ...] = ()
    """The conductors of its feeder; none for the service's own panel."""

    @property
    def free(self) -> int | None:
        """Spaces with nothing in them; None where nobody recorded how many there are."""
        if self.panel.spaces is None:
            return None
        return sum(not place.circuit for place in self.places)

    @property
    def verdict(self) -> Verdict:
        """The worst of its checks and of its circuits."""
        verdicts = []
        for x in self.checks:
            verdicts.append(x.verdict)
        found = []
        for x in self.branches:
            found.append(x.verdict)
        return worst([*verdicts, *found])


def panels(house: House, book: Rulebook) -> list[PanelSchedule]:
    """Every panel of the house that carries power."""
    every, words = branches(house, book), directory(house)
    schedules: list[PanelSchedule] = []
    for panel in house.panels:
        if panel.kind is not PanelKind.COMMUNICATIONS:
            xes = []
            for x in every:
                if x.circuit.panel == panel.id:
                    xes.append(x)
            schedules.append(_schedule(panel, xes, words, house, book))
    return schedules


def _schedule(
    panel: Panel, found: list[Branch], words: dict[str, str], house: House, book: Rulebook
) -> PanelSchedule:
    circuits = []
    for x in found:
        circuits.append(x.circuit)
    places = tuple(_places(panel, circuits))
    a_va, b_va = _loads(found)
    best, best_places, trouble = _best(panel, found, places)
    service = house.service or Service()
    by_id = {}
    for x in found:
        by_id[x.circuit.id] = words[x.circuit.id]
    return PanelSchedule(
        panel,
        tuple(found),
        by_id,
        places,
        a_va,
        b_va,
        best,
        best_places,
        (*_checks(panel, found, places, service, book), *trouble),
        _feeder(panel, service, book),
    )


def _feeder(panel: Panel, service: Service, book: Rulebook) -> tuple[Sized, ...]:
    rating = panel.main_a or panel.rating_a
    if panel.kind is not PanelKind.FEEDER or rating is None:
        return ()
    materials = ["copper", "aluminum"]
    if service.material:
        materials = [service.material]
    conductors = []
    for material in materials:
        conductors.append(feeder_conductor(rating, material, book))
    return (*conductors, bonding_conductor(rating, book))


def load_va(branch: Branch) -> int:
    """What a circuit lays on each of its legs, in whole volt-amperes."""
    if branch.connected_va is not None:
        return round(branch.connected_va / branch.circuit.poles)
    return round(branch.demand_a * branch.volts / branch.circuit.poles)


def _loads(found: Sequence[Branch]) -> tuple[int, int]:
    legs: Counter[str] = Counter()
    for branch in found:
        for slot in branch.circuit.slots:
            legs[leg_of(slot)] += load_va(branch)
    return legs["A"], legs["B"]


def _places(panel: Panel, circuits: Sequence[Circuit]) -> Iterator[PanelSpace]:
    """Every space in order, odd and even, with the halves of tandem breakers apart."""
    by: dict[int, list[Circuit]] = {}
    for circuit in circuits:
        for slot in circuit.slots:
            by.setdefault(slot, []).append(circuit)
    last = max([panel.spaces or 0, *by])
    for slot in range(1, last + 1):
        inside = by.get(slot, [])
        if any(circuit.half for circuit in inside):
            for half in ("a", "b"):
                name = ""
                for x in inside:
                    if x.half == half:
                        name = x.id
                        break
                yield PanelSpace(slot, leg_of(slot), half, name)
        else:
            yield PanelSpace(slot, leg_of(slot), "", inside[0].id if inside else "")


def _best(
    panel: Panel, found: Sequence[Branch], places: Sequence[PanelSpace]
) -> tuple[Balance | None, dict[str, tuple[int, ...]], list[Check]]:
    """The arrangement of least imbalance, and where it puts what has to move."""
    if panel.spaces is None:
        says = "nobody recorded how many spaces the panel has"
        return None, {}, [Check("Balance", Verdict.UNKNOWN, says)]
    large = []
    for x in found:
        if x.circuit.poles > 1:
            large.append(x)
    spots, free = _large(large, places)
    if spots is None:
        says = "no two spaces above one another are free for every two-pole breaker"
        return None, {}, [Check("Balance", Verdict.SHORT, says)]
    singles = []
    for x in found:
        if x.circuit.poles == 1:
            singles.append(
                Single(
                    x.circuit.id,
                    load_va(x),
                    leg_of(x.circuit.slots[0]) if x.circuit.slots else "",
                    _partner(x.circuit, found),
                )
            )
    on = {}
    for leg in "AB":
        on[leg] = [place for place in free if place.leg == leg]
    try:
        best = balance(singles, len(on["A"]), len(on["B"]))
    except CannotBalance as error:
        return None, {}, [Check("Balance", Verdict.SHORT, str(error))]
    return best, spots | _settle(best, found, on), []


def _partner(circuit: Circuit, found: Sequence[Branch]) -> str:
    """The single-pole circuit of this panel with which it shares a neutral."""
    for other in found:
        if other.circuit.poles == 1 and other.circuit.id != circuit.id:
            shares = (circuit.shares_neutral_with, other.circuit.shares_neutral_with)
            if shares[0] == other.circuit.id or shares[1] == circuit.id:
                return other.circuit.id
    return ""


def _large(
    large: Sequence[Branch], places: Sequence[PanelSpace]
) -> tuple[dict[str, tuple[int, ...]] | None, list[PanelSpace]]:
    """Spaces for two-pole breakers that have none, and the places left for single poles.

    A breaker takes two spaces above one another. Singles may be moved, so only spaces of other
    two-pole breakers are taken; pairs from the top leave the rest of a side in one piece.
    """
    taken = set()
    for branch in large:
        for slot in branch.circuit.slots:
            taken.add(slot)
    tandem = set()
    for place in places:
        if place.half:
            tandem.add(place.slot)
    slots = set()
    for place in places:
        slots.add(place.slot)
    spots: dict[str, tuple[int, ...]] = {}
    for branch in large:
        if branch.circuit.slots:
            continue
        spot = None
        for slot in sorted(slots):
            if not {slot, slot + 2} & (taken | tandem) and slot + 2 in slots:
                spot = (slot, slot + 2)
                break
        if spot is None:
            return None, []
        spots[branch.circuit.id] = spot
        taken |= set(spot)
    found = []
    for place in places:
        if place.slot not in taken:
            found.append(place)
    return spots, found


def _settle(
    best: Balance, found: Sequence[Branch], on: dict[str, list[PanelSpace]]
) -> dict[str, tuple[int, ...]]:
    """A space for each circuit that moves: the others keep theirs."""
    moving: dict[str, list[str]] = {"A": [], "B": []}
    kept: set[tuple[int, str]] = set()
    spaces = set()
    for places in on.values():
        for place in places:
            spaces.add((place.slot, place.half))
    for branch in found:
        circuit = branch.circuit
        if circuit.poles > 1:
            continue
        here = None
        if circuit.slots:
            here = (circuit.slots[0], circuit.half or "")
        if here and here in spaces and leg_of(here[0]) == best.legs[circuit.id]:
            kept.add(here)
        else:
            moving[best.legs[circuit.id]].append(circuit.id)
    spots: dict[str, tuple[int, ...]] = {}
    for leg, names in moving.items():
        free = []
        for place in on[leg]:
            if (place.slot, place.half) not in kept:
                free.append(place.slot)
        for name, slot in zip(names, free, strict=False):
            spots[name] = (slot,)
    return spots


def _checks(
    panel: Panel,
    found: Sequence[Branch],
    places: Sequence[PanelSpace],
    service: Service,
    book: Rulebook,
) -> Iterator[Check]:
    yield from _spaces(panel, found)
    yield from _bus(panel, found)
    yield from _neutrals(found)
    yield from _positions(panel, places, service, book)


def _spaces(panel: Panel, found: Sequence[Branch]) -> Iterator[Check]:
    unplaced = []
    for x in found:
        if not x.circuit.slots:
            unplaced.append(x.circuit.name)
    if unplaced:
        says = f"no space recorded for {', '.join(unplaced)}"
        yield Check("Spaces", Verdict.UNKNOWN, says)
    halves = set()
    for x in found:
        if x.circuit.half and x.circuit.slots:
            halves.add(x.circuit.slots[0])
    wrong = sorted(halves - set(panel.tandem_spaces))
    if wrong:
        allowed = ", ".join(map(str, panel.tandem_spaces)) or "none"
        says = (
            f"tandem breakers in space {', '.join(map(str, wrong))}; its label lets them into "
            f"{allowed}"
        )
        yield Check("Tandem breakers", Verdict.SHORT, says)
    elif halves:
        says = f"in spaces {', '.join(map(str, sorted(halves)))}, as its label lets them"
        yield Check("Tandem breakers", Verdict.MEETS, says)
    for branch in found:
        slots = branch.circuit.slots
        if len(slots) == 2 and abs(slots[0] - slots[1]) != 2:
            says = f"{branch.circuit.name} is in {slots[0]} and {slots[1]}, not above one another"
            yield Check("Two-pole breakers", Verdict.SHORT, says)


def _bus(panel: Panel, found: Sequence[Branch]) -> Iterator[Check]:
    if panel.rating_a is None:
        yield Check("Bus rating", Verdict.UNKNOWN, "nobody recorded the rating of the panel")
        return
    breakers = []
    for x in found:
        breakers.append(x.circuit.breaker_a)
    largest = max(breakers, default=0.0)
    for what, amps in (("main breaker", panel.main_a or panel.rating_a), ("breaker", largest)):
        verdict = Verdict.SHORT
        if amps <= panel.rating_a:
            verdict = Verdict.MEETS
        says = f"{what} {amps:g} A on a bus of {panel.rating_a:g} A"
        yield Check("Bus rating", verdict, says)


def _neutrals(found: Sequence[Branch]) -> Iterator[Check]:
    by = {}
    for x in found:
        by[x.circuit.id] = x.circuit
    for circuit in by.values():
        other = by.get(circuit.shares_neutral_with or "")
        if other is None or not circuit.slots or not other.slots:
            continue
        legs = leg_of(circuit.slots[0]), leg_of(other.slots[0])
        verdict = Verdict.MEETS
        if legs[0] == legs[1]:
            verdict = Verdict.SHORT
        says = f"{circuit.name} on leg {legs[0]}, {other.name} on leg {legs[1]}"
        if verdict is Verdict.SHORT:
            says += ": their neutral would carry the sum; put them on opposite legs"
        yield Check("Shared neutral", verdict, says)


def _positions(
    panel: Panel, places: Sequence[PanelSpace], service: Service, book: Rulebook
) -> Iterator[Check]:
    """The spaces that the Canadian code asks of a dwelling's panel, and those to spare."""
    central = service.heat_control is HeatControl.CENTRAL
    table = book.get("panel.central_heat_positions" if central else "panel.positions")
    if table is None or panel.kind is not PanelKind.SERVICE:
        return
    rating = panel.main_a or panel.rating_a
    if panel.spaces is None or rating is None:
        yield Check("Positions", Verdict.UNKNOWN, "spaces or rating not recorded", (table,))
        return
    least, spare = up_to(table.value, rating), book["panel.spare"]
    enough = panel.spaces >= least
    says = f"{panel.spaces} spaces for {rating:g} A; at least {least:g}"
    yield Check("Positions", Verdict.MEETS if enough else Verdict.SHORT, says, (table,))
    free = sum(not place.circuit for place in places)
    verdict = Verdict.SHORT
    if free >= spare.value:
        verdict = Verdict.MEETS
    yield Check("Spare positions", verdict, f"{free} free; at least {spare.value:g}", (spare,))

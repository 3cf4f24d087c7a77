"""A panel: its spaces, legs and checks, and the best arrangement of its circuits."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from config.messages.message import Amperes, Joined, Listed, Value
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.power import Circuit, Panel, PanelKind
from inspections.checker.house.service import HeatControl, Service
from inspections.checker.rulebook import Rulebook

from . import check_messages as says
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
    directory: dict[str, Value]
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
        """Spaces with nothing in them; None where how many there are is not recorded yet."""
        if self.panel.spaces is None:
            return None
        return sum(not place.circuit for place in self.places)

    @property
    def verdict(self) -> Verdict:
        """The worst of its checks and of its circuits."""
        verdicts = [check.verdict for check in self.checks]
        for branch in self.branches:
            verdicts.append(branch.verdict)
        return worst(verdicts)


def panels(house: House, book: Rulebook) -> list[PanelSchedule]:
    """Every panel of the house that carries power."""
    every, words = branches(house, book), directory(house)
    schedules: list[PanelSchedule] = []
    for panel in house.panels:
        if panel.kind is not PanelKind.COMMUNICATIONS:
            fed = []
            for branch in every:
                if branch.circuit.panel == panel.id:
                    fed.append(branch)
            schedules.append(_schedule(panel, fed, words, house, book))
    return schedules


def _schedule(
    panel: Panel, found: list[Branch], words: dict[str, Value], house: House, book: Rulebook
) -> PanelSchedule:
    places = tuple(_places(panel, [branch.circuit for branch in found]))
    a_va, b_va = _loads(found)
    best, best_places, trouble = _best(panel, found, places)
    service = house.service or Service()
    card = {}
    for branch in found:
        card[branch.circuit.id] = words[branch.circuit.id]
    return PanelSchedule(
        panel,
        tuple(found),
        card,
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
                yield PanelSpace(slot, leg_of(slot), half, _of_half(inside, half))
        elif inside:
            yield PanelSpace(slot, leg_of(slot), "", inside[0].id)
        else:
            yield PanelSpace(slot, leg_of(slot), "", "")


def _of_half(inside: Sequence[Circuit], half: str) -> str:
    """The circuit on that half of a tandem breaker; empty where it is free."""
    for circuit in inside:
        if circuit.half == half:
            return circuit.id
    return ""


def _best(
    panel: Panel, found: Sequence[Branch], places: Sequence[PanelSpace]
) -> tuple[Balance | None, dict[str, tuple[int, ...]], list[Check]]:
    """The arrangement of least imbalance, and where it puts what has to move."""
    if panel.spaces is None:
        return None, {}, [Check(says.BALANCE(), Verdict.INFO_NEEDED, says.NO_SPACES())]
    large = []
    for branch in found:
        if branch.circuit.poles > 1:
            large.append(branch)
    spots, free = _large(large, places)
    if spots is None:
        return None, {}, [Check(says.BALANCE(), Verdict.NOT_TO_CODE, says.NO_PAIR())]
    on: dict[str, list[PanelSpace]] = {"A": [], "B": []}
    for place in free:
        on[place.leg].append(place)
    try:
        best = balance(_singles(found), len(on["A"]), len(on["B"]))
    except CannotBalance as error:
        return None, {}, [Check(says.BALANCE(), Verdict.NOT_TO_CODE, error.text)]
    return best, spots | _settle(best, found, on), []


def _singles(found: Sequence[Branch]) -> list[Single]:
    """The single-pole circuits with what they lay on a leg, and the leg they are on."""
    singles = []
    for branch in found:
        circuit = branch.circuit
        if circuit.poles > 1:
            continue
        leg = ""
        if circuit.slots:
            leg = leg_of(circuit.slots[0])
        singles.append(Single(circuit.id, load_va(branch), leg, _partner(circuit, found)))
    return singles


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
    taken: set[int] = set()
    for branch in large:
        taken.update(branch.circuit.slots)
    whole: dict[int, bool] = {}
    for place in places:
        whole[place.slot] = not place.half
    spots: dict[str, tuple[int, ...]] = {}
    for branch in large:
        if branch.circuit.slots:
            continue
        spot = _free_pair(whole, taken)
        if spot is None:
            return None, []
        spots[branch.circuit.id] = spot
        taken.update(spot)
    left = []
    for place in places:
        if place.slot not in taken:
            left.append(place)
    return spots, left


def _free_pair(whole: dict[int, bool], taken: set[int]) -> tuple[int, int] | None:
    """The first two whole spaces above one another that are not taken."""
    for slot in sorted(whole):
        pair = (slot, slot + 2)
        if all(whole.get(each) and each not in taken for each in pair):
            return pair
    return None


def _settle(
    best: Balance, found: Sequence[Branch], on: dict[str, list[PanelSpace]]
) -> dict[str, tuple[int, ...]]:
    """A space for each circuit that moves: the others keep theirs."""
    spaces: dict[str, list[tuple[int, str]]] = {}
    for leg, places in on.items():
        spaces[leg] = [(place.slot, place.half) for place in places]
    moving: dict[str, list[str]] = {"A": [], "B": []}
    staying: set[tuple[int, str]] = set()
    for branch in found:
        circuit = branch.circuit
        if circuit.poles > 1:
            continue
        leg, here = best.legs[circuit.id], _place_of(circuit)
        if here in spaces[leg]:
            staying.add(here)
        else:
            moving[leg].append(circuit.id)
    spots: dict[str, tuple[int, ...]] = {}
    for leg, names in moving.items():
        free = []
        for slot, half in spaces[leg]:
            if (slot, half) not in staying:
                free.append(slot)
        for name, slot in zip(names, free, strict=False):
            spots[name] = (slot,)
    return spots


def _place_of(circuit: Circuit) -> tuple[int, str]:
    """The space of a single pole, and the half of it; space 0 is none."""
    if not circuit.slots:
        return 0, ""
    return circuit.slots[0], circuit.half or ""


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
    halves = set()
    for branch in found:
        slots = branch.circuit.slots
        if not slots:
            unplaced.append(branch.circuit.name)
        elif branch.circuit.half:
            halves.add(slots[0])
    if unplaced:
        told = says.NO_SPACE(circuits=Listed(tuple(unplaced)))
        yield Check(says.SPACES(), Verdict.INFO_NEEDED, told)
    if halves:
        yield _tandem(panel, halves)
    for branch in found:
        slots = branch.circuit.slots
        if len(slots) == 2 and abs(slots[0] - slots[1]) != 2:
            told = says.TWO_POLE_SAYS(circuit=branch.circuit.name, first=slots[0], second=slots[1])
            yield Check(says.TWO_POLE(), Verdict.NOT_TO_CODE, told)


def _tandem(panel: Panel, halves: set[int]) -> Check:
    """Whether the panel's label lets tandem breakers into the spaces where they are."""
    what = says.TANDEM()
    wrong = sorted(halves - set(panel.tandem_spaces))
    if not wrong:
        return Check(what, Verdict.OK, says.TANDEM_OK(spaces=_numbers(sorted(halves))))
    told = says.TANDEM_NONE(spaces=_numbers(wrong))
    if panel.tandem_spaces:
        allowed = _numbers(panel.tandem_spaces)
        told = says.TANDEM_WRONG(spaces=_numbers(wrong), allowed=allowed)
    return Check(what, Verdict.NOT_TO_CODE, told)


def _numbers(spaces: Sequence[int]) -> Joined:
    """Spaces by number, one after another."""
    return Joined(tuple(spaces), ", ")


def _bus(panel: Panel, found: Sequence[Branch]) -> Iterator[Check]:
    if panel.rating_a is None:
        yield Check(says.BUS(), Verdict.INFO_NEEDED, says.NO_BUS())
        return
    breakers = []
    for x in found:
        breakers.append(x.circuit.breaker_a)
    largest = max(breakers, default=0.0)
    main = panel.main_a or panel.rating_a
    for told, amps in ((says.MAIN_ON_BUS, main), (says.LARGEST_ON_BUS, largest)):
        verdict = Verdict.NOT_TO_CODE
        if amps <= panel.rating_a:
            verdict = Verdict.OK
        line = told(amps=Amperes(amps), rating=Amperes(panel.rating_a))
        yield Check(says.BUS(), verdict, line)


def _neutrals(found: Sequence[Branch]) -> Iterator[Check]:
    by = {}
    for x in found:
        by[x.circuit.id] = x.circuit
    for circuit in by.values():
        other = by.get(circuit.shares_neutral_with or "")
        if other is None or not circuit.slots or not other.slots:
            continue
        legs = leg_of(circuit.slots[0]), leg_of(other.slots[0])
        yield _shared_neutral((circuit.name, other.name), legs)


def _shared_neutral(names: tuple[str, str], legs: tuple[str, str]) -> Check:
    """Whether two circuits with one neutral are on opposite legs."""
    what, (circuit, other) = says.SHARED_NEUTRAL(), names
    if legs[0] == legs[1]:
        told = says.SAME_LEG(circuit=circuit, other=other, leg=legs[0])
        return Check(what, Verdict.NOT_TO_CODE, told)
    told = says.OPPOSITE_LEGS(circuit=circuit, leg=legs[0], other=other, other_leg=legs[1])
    return Check(what, Verdict.OK, told)


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
        yield Check(says.POSITIONS(), Verdict.INFO_NEEDED, says.NO_POSITIONS(), (table,))
        return
    least, spare = up_to(table.value, rating), book["panel.spare"]
    enough = panel.spaces >= least
    told = says.POSITIONS_SAYS(n=panel.spaces, rating=Amperes(rating), least=least)
    yield Check(says.POSITIONS(), Verdict.OK if enough else Verdict.NOT_TO_CODE, told, (table,))
    free = sum(not place.circuit for place in places)
    verdict = Verdict.NOT_TO_CODE
    if free >= spare.value:
        verdict = Verdict.OK
    told = says.SPARE_SAYS(n=free, least=spare.value)
    yield Check(says.SPARE(), verdict, told, (spare,))

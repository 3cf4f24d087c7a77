"""What the authority said may be live, and what of the present house speaks against it.

Its word is a fact: nothing here changes it. Where the house has another circuit today, or a load or
a look is against it, that is a warning beside it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from config.messages.message import Amperes, Listed, Text, Value
from inspections.checker.finding import Verdict

from . import hookup_messages as says
from .breakers import Breaker, breaker_line
from .check_messages import amps
from .choice import Bounds, Candidate, Chosen, amperes_counted, refusal_alone
from .facts import leg_of
from .panel import PanelSchedule
from .service import Check


@dataclass(frozen=True, slots=True)
class Authorised:
    """A circuit that may be live, as the authorization named it."""

    id: str
    """Its id in the house; empty for what was typed and matches no circuit."""
    label: str
    """Its number and name in the panel as the house had them then."""
    now: str = ""
    """The same as the house has them now, where they are others."""
    against: tuple[Value, ...] = ()
    """Items of the checklist about it that fail, each by its title."""


def authorised_lines(
    authorised: Sequence[Authorised],
    wanted: Sequence[Candidate],
    schedules: Sequence[PanelSchedule],
) -> tuple[Breaker, ...]:
    """Each of them as its panel has it; one that no panel has is told by its label alone."""
    by_circuit = {}
    for want in wanted:
        by_circuit[want.circuit] = want
    breakers = []
    for each in authorised:
        line = breaker_line(each.id, schedules)
        if line is None:
            breakers.append(Breaker("", each.label, says.NOT_IN_PANEL(), "", ""))
            continue
        want = by_circuit[each.id]
        legs = Listed(tuple(_legs(each.id, schedules)))
        breakers.append(replace(line, legs=legs, amps=want.amps))
    return tuple(breakers)


def carried_by(
    wanted: Sequence[Candidate], schedules: Sequence[PanelSchedule], bounds: Bounds
) -> Chosen:
    """What the authorised circuits come to on each leg. Nothing is chosen, and nothing left out."""
    legs = {}
    for each in wanted:
        legs[each.name] = _legs(each.circuit, schedules)
    sums = []
    for leg in "AB":
        sums.append(sum(amperes_counted(each, bounds) for each in wanted if leg in legs[each.name]))
    return Chosen(tuple(wanted), legs, sums[0], sums[1], (), False, (), bounds)


def warnings_of(
    authorised: Sequence[Authorised],
    schedules: Sequence[PanelSchedule],
    carried: Chosen | None,
) -> Iterator[Text]:
    """What speaks against them, as sentences; `carried` is None where no rating is recorded."""
    for each in authorised:
        yield from _of_one(each, schedules)
    if carried is not None:
        yield from _of_load(carried)


def _of_one(each: Authorised, schedules: Sequence[PanelSchedule]) -> Iterator[Text]:
    if not each.id:
        yield says.TYPED(circuit=each.label)
        return
    if breaker_line(each.id, schedules) is None:
        yield says.GONE(circuit=each.label)
        return
    if each.now:
        yield says.RENAMED(circuit=each.label, now=each.now)
    for check in _checks_of(each.id, schedules):
        if check.verdict is not Verdict.OK:
            yield says.FIGURES(circuit=each.label, what=check.what, says=check.says)
    for title in each.against:
        yield says.ITEM_FAILS(circuit=each.label, item=title)


def _checks_of(circuit: str, schedules: Sequence[PanelSchedule]) -> Iterator[Check]:
    for schedule in schedules:
        for branch in schedule.branches:
            if branch.circuit.id == circuit:
                yield from branch.checks


def _of_load(carried: Chosen) -> Iterator[Text]:
    bounds = carried.bounds
    if len(carried.live) > bounds.circuits:
        yield says.TOO_MANY(n=len(carried.live), most=bounds.circuits)
    for each in carried.live:
        if why := refusal_alone(each, bounds):
            yield says.LOAD_AGAINST(circuit=each.name, why=why)
    for leg, figure in (("A", carried.a_amps), ("B", carried.b_amps)):
        if figure > bounds.service_a + 1e-9:
            rating = Amperes(bounds.service_a)
            yield says.LEG_OVER(leg=leg, amps=amps(figure), rating=rating)


def _legs(circuit_id: str, schedules: Sequence[PanelSchedule]) -> str:
    """The legs of a circuit's spaces; both where no space is recorded, so that neither is short."""
    for schedule in schedules:
        for branch in schedule.branches:
            if branch.circuit.id == circuit_id:
                legs = set()
                for slot in branch.circuit.slots:
                    legs.add(leg_of(slot))
                return "".join(sorted(legs)) or "AB"
    return ""

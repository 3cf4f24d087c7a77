"""The construction hookup: whether it is ready, which circuits are live, which stay locked off."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from config.messages.message import Amperes, Joined, Listed, Percent, Text, Value
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.service import Hookup, Service, Want, Warming
from inspections.checker.rulebook import Rulebook

from . import hookup_messages as says
from .authorised import Authorised, authorised_lines, carried_by, warnings_of
from .branch import Branch
from .breakers import Breaker, breaker_line, locked_off
from .check_messages import AS_REQUIRED, BREAKER, amps
from .choice import Bounds, Candidate, Chosen, choose
from .facts import facts_of, leg_of
from .heat import heat_kw, hours_to_warm
from .hookup_messages import ASKED
from .panel import PanelSchedule, panels
from .service import Check, ServiceLoad, service_load, worst
from .temporary import temporary_checks


@dataclass(frozen=True, slots=True)
class Outside:
    """What the house does not know of itself: permit, rough-in, the authority's word."""

    permit_issued: bool | None = None
    permit_reference: str = ""
    rough_in_accepted: bool | None = None
    rough_in_reference: str = ""
    hookup_reference: str = ""
    temporary_until: date | None = None
    temporary_gone_on: date | None = None
    permit_says: Value = ""
    """Why a permit that was issued is no permit today; empty where it is one, or none was."""
    hookup_on: date | None = None
    authorised: tuple[Authorised, ...] | None = None
    """What the authority said may be live; None before a hookup is on record."""


@dataclass(frozen=True)
class HookupSheet:
    """Everything that the hookup sheet shows."""

    readiness: tuple[Check, ...]
    chosen: Chosen | None
    """What is proposed; None once the authority has said what may be live."""
    live: tuple[Breaker, ...]
    """What is authorised; before that, what is proposed."""
    locked_off: tuple[Breaker, ...]
    heat: tuple[Text, ...]
    temporary: tuple[Check, ...]
    load: ServiceLoad
    schedules: tuple[PanelSchedule, ...]
    reference: str
    authorised: tuple[Authorised, ...] | None = None
    authorised_on: date | None = None
    warnings: tuple[Text, ...] = ()
    """What of the present house speaks against what is authorised."""

    @property
    def proposed(self) -> bool:
        """Whether its live list is a proposal: nothing of it may be live."""
        return self.authorised is None

    @property
    def verdict(self) -> Verdict:
        """Ready only when each item is: short before unknown before meets."""
        verdicts = []
        for check in self.readiness:
            verdicts.append(check.verdict)
        return worst(verdicts)


def hookup_sheet(house: House, book: Rulebook, outside: Outside | None = None) -> HookupSheet:
    """Readiness, what stays off, and what is live: as authorised, or else the best set proposed."""
    outside = outside or Outside()
    service = house.service or Service()
    hookup = service.hookup or Hookup()
    load = service_load(facts_of(house, book), book)
    schedules = tuple(panels(house, book))
    bounds = _bounds(hookup, load, schedules, book)
    proposed = carried = None
    warnings: tuple[Text, ...] = ()
    if outside.authorised is None:
        proposed = carried = _chosen(hookup, schedules, bounds)
        live: tuple[Breaker, ...] = ()
        if proposed:
            live = _live(proposed, schedules)
        circuits = _chosen_check(proposed)
    else:
        wanted = _authorised_wants(hookup, outside.authorised, schedules)
        carried = None
        if bounds:
            carried = carried_by(wanted, schedules, bounds)
        live = authorised_lines(outside.authorised, wanted, schedules)
        warnings = tuple(warnings_of(outside.authorised, schedules, carried))
        circuits = _authorised_check(outside, warnings)
    on = set()
    for each in live:
        if each.circuit:
            on.add(each.circuit)
    return HookupSheet(
        (*_readiness(hookup, load, schedules, outside), circuits),
        proposed,
        live,
        tuple(locked_off(schedules, on)),
        tuple(_heat(hookup, service, load, carried, book)),
        tuple(temporary_checks(house, book, outside.temporary_until, outside.temporary_gone_on)),
        load,
        schedules,
        outside.hookup_reference,
        outside.authorised,
        outside.hookup_on,
        warnings,
    )


def _readiness(
    hookup: Hookup, load: ServiceLoad, schedules: Sequence[PanelSchedule], outside: Outside
) -> list[Check]:
    checks = [_permit(outside)]
    reference = outside.rough_in_reference
    checks.append(_outside(says.ROUGH_IN(), outside.rough_in_accepted, reference))
    for name, what in ASKED:
        fact = getattr(hookup, name)
        verdict = {None: Verdict.INFO_NEEDED, True: Verdict.OK, False: Verdict.NOT_TO_CODE}[fact]
        told = {None: says.NOT_CHECKED, True: says.DONE, False: says.NOT_DONE}[fact]
        checks.append(Check(what(), verdict, told()))
    need = says.CARRIES_SAYS(need=amps(load.need_a), why=load.why or "")
    checks.append(Check(says.CARRIES(), load.verdict, need))
    for schedule in schedules:
        wrong = []
        for check in schedule.checks:
            if check.verdict is not Verdict.OK:
                wrong.append(check)
        parts: list[Text] = []
        for check in wrong:
            parts.append(says.CHECK_SAYS(what=check.what, says=check.says))
        verdicts = []
        for check in wrong:
            verdicts.append(check.verdict)
        verdict = worst(verdicts)
        line: Value = AS_REQUIRED()
        if parts:
            line = Joined(tuple(parts))
        checks.append(Check(says.PANEL(panel=schedule.panel.id), verdict, line))
    return checks


def _chosen_check(chosen: Chosen | None) -> Check:
    if chosen is None:
        return Check(says.CHOSEN(), Verdict.INFO_NEEDED, says.NONE_CHOSEN())
    told = says.CHOSEN_SAYS(
        n=len(chosen.live), most=chosen.bounds.circuits, out=len(chosen.left_out)
    )
    return Check(says.CHOSEN(), Verdict.OK, told)


def _authorised_check(outside: Outside, warnings: Sequence[Text]) -> Check:
    """Whether the house as recorded agrees with the circuits that the authority authorised."""
    named = says.AUTHORIZED_N(n=len(outside.authorised or ()))
    told = _with_reference(named, outside.hookup_reference)
    if warnings:
        return Check(says.AUTHORIZED(), Verdict.INFO_NEEDED, says.SEE_WARNINGS(what=told))
    return Check(says.AUTHORIZED(), Verdict.OK, told)


def _permit(outside: Outside) -> Check:
    if not outside.permit_says:
        return _outside(says.PERMIT(), outside.permit_issued, outside.permit_reference)
    told = _with_reference(outside.permit_says, outside.permit_reference)
    return Check(says.PERMIT(), Verdict.NOT_TO_CODE, told)


def _outside(what: Text, fact: bool | None, reference: str) -> Check:
    verdict = {None: Verdict.INFO_NEEDED, True: Verdict.OK, False: Verdict.NOT_TO_CODE}[fact]
    told = {None: says.NOT_RECORDED, True: says.YES, False: says.NOT_YET}[fact]
    return Check(what, verdict, _with_reference(told(), reference))


def _with_reference(what: Value, reference: str) -> Value:
    if not reference:
        return what
    return says.WITH_REFERENCE(what=what, reference=reference)


def _bounds(
    hookup: Hookup, load: ServiceLoad, schedules: Sequence[PanelSchedule], book: Rulebook
) -> Bounds | None:
    """The most that the hookup may carry; None while the service rating is not recorded yet."""
    rating = load.facts.rating_a
    if rating is None:
        return None
    limit = book["hookup.max_circuits"]
    free = []
    for schedule in schedules:
        if schedule.free is not None:
            free.append(schedule.free)
    return Bounds(
        hookup.max_circuits if hookup.max_circuits is not None else int(limit.value),
        rating,
        book.value("hookup.continuous_pct"),
        hookup.max_imbalance_a,
        max(free) if free else None,
    )


def _chosen(
    hookup: Hookup, schedules: Sequence[PanelSchedule], bounds: Bounds | None
) -> Chosen | None:
    if not hookup.wants or bounds is None:
        return None
    names = []
    for want in hookup.wants:
        names.append(want.name)
    told = []
    for place, want in enumerate(hookup.wants, 1):
        told.append(want.name if names.count(want.name) == 1 else f"{want.name} ({place})")
    pairs = zip(hookup.wants, told, strict=True)
    candidates = []
    for want, name in pairs:
        candidates.append(_candidate(want, schedules, name))
    return choose(candidates, bounds)


def _authorised_wants(
    hookup: Hookup, authorised: Sequence[Authorised], schedules: Sequence[PanelSchedule]
) -> list[Candidate]:
    """The authorised circuits that the house has, each with what it was wanted for, if it was."""
    wants = {want.circuit: want for want in reversed(hookup.wants) if want.circuit}
    candidates = []
    for each in authorised:
        if breaker_line(each.id, schedules) is None:
            continue
        want = wants.get(each.id) or Want(name=each.id, circuit=each.id)
        candidates.append(_candidate(want, schedules, each.label))
    return candidates


def _candidate(want: Want, schedules: Sequence[PanelSchedule], name: str) -> Candidate:
    """A want with what its circuit tells: poles, leg, breaker, and its load when nobody said."""
    watts = want.volt_amperes
    branch = _branch_of(want, schedules)
    if branch is None:
        amps = None
        if watts is not None:
            amps = watts / want.volts
        poles = 1
        if want.volts > 150:
            poles = 2
        return Candidate(name, want.rank, amps, poles, "", want.breaker_a, want.continuous)
    if watts is None:
        watts = branch.connected_va
    amps = branch.demand_a
    if watts is not None:
        amps = watts / branch.volts
    circuit = branch.circuit
    leg = ""
    if circuit.poles == 1 and circuit.slots:
        leg = leg_of(circuit.slots[0])
    return Candidate(
        name, want.rank, amps, circuit.poles, leg, circuit.breaker_a, want.continuous, circuit.id
    )


def _branch_of(want: Want, schedules: Sequence[PanelSchedule]) -> Branch | None:
    """The circuit that a want names, when the house has it."""
    for schedule in schedules:
        for branch in schedule.branches:
            if branch.circuit.id == want.circuit:
                return branch
    return None


def _live(chosen: Chosen, schedules: Sequence[PanelSchedule]) -> tuple[Breaker, ...]:
    breakers = []
    for each in chosen.live:
        line = breaker_line(each.circuit, schedules)
        legs = Listed(tuple(chosen.legs[each.name]))
        if line is None:
            size = says.TO_BE_CHOSEN(poles=each.poles)
            if each.breaker_a:
                size = BREAKER(amps=Amperes(each.breaker_a), poles=each.poles)
            line = Breaker("", each.name, size, says.TEMPORARY(), Joined((each.name,)))
        breakers.append(replace(line, name=each.name, legs=legs, amps=each.amps))
    return tuple(breakers)


def _heat(
    hookup: Hookup,
    service: Service,
    load: ServiceLoad,
    chosen: Chosen | None,
    book: Rulebook,
) -> list[Text]:
    """What temporary heat draws, what the pole could have carried, what the hookup can."""
    share = book.value("hookup.continuous_pct")
    lines = [*_heaters(hookup)]
    ratings = list(book.value("temporary.ratings_a").values())
    if service.temporary and service.temporary.rating_a:
        ratings = [service.temporary.rating_a]
    for rating in ratings:
        heat = round(heat_kw(rating, share), 2)
        lines.append(says.POLE_HEAT(rating=Amperes(rating), heat=heat, share=Percent(share)))
    if load.facts.rating_a:
        rating = load.facts.rating_a
        heat = round(heat_kw(rating, share), 2)
        lines.append(says.SERVICE_HEAT(rating=Amperes(rating), heat=heat))
    if chosen:
        a, b = amps(chosen.a_amps), amps(chosen.b_amps)
        lines.append(says.LIVE_LOAD(a=a, b=b, share=Percent(10000 / share)))
    if hookup.warming is not None and chosen is not None:
        lines.append(_warming(hookup.warming, chosen, service.volts))
    return lines


def _heaters(hookup: Hookup) -> Iterator[Text]:
    """What each want draws that runs for hours, as heaters do."""
    for want in hookup.wants:
        if not want.continuous or not want.volt_amperes:
            continue
        told = says.HEATER_ONE
        if want.volts > 150:
            told = says.HEATER_EACH
        yield told(
            want=want.name,
            heat=want.volt_amperes / 1000,
            volts=want.volts,
            amps=amps(want.volt_amperes / want.volts),
        )


def _warming(room: Warming, chosen: Chosen, volts: float) -> Text:
    """Hours to warm a volume with the heaters that are live, told as an estimate alone."""
    heaters = []
    for each in chosen.live:
        if each.continuous:
            heaters.append(each)
    kw = sum((x.amps or 0) * (volts if x.poles > 1 else volts / 2) for x in heaters) / 1000
    found = hours_to_warm(room.volume_m3, kw, room.from_c, room.to_c, room.loss_w_per_k)
    return says.WARMING(
        volume=round(room.volume_m3),
        cold=room.from_c,
        warm=room.to_c,
        heat=kw,
        working=found.working,
        caution=found.caution,
    )

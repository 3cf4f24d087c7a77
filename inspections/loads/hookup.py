"""The construction hookup: whether it is ready, which circuits are live, which stay locked off."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.service import Hookup, Service, Want, Warming
from inspections.checker.rulebook import Rulebook

from .authorised import Authorised, authorised_lines, carried_by, warnings_of
from .branch import Branch
from .breakers import Breaker, breaker_line, locked_off
from .choice import Bounds, Candidate, Chosen, choose
from .facts import facts_of, leg_of
from .heat import heat_kw, hours_to_warm
from .panel import PanelSchedule, panels
from .service import Check, ServiceLoad, service_load, worst
from .temporary import temporary_checks

CAUTIONS = (
    "Energising is the licensed person's act, with the authority's word in hand.",
    "Test dead before work; lock off and label every breaker that stays off; keep the key.",
    "Live parts behind a cover, at all times; no work in the panel while it is live.",
    "Open boxes on live circuits are closed, and their conductors capped, before they are live.",
    "Heaters stand clear of board, film and filler, and are never left unwatched by design.",
)
NOT_COVERED = (
    "The utility's own requirements, the meter and its seal.",
    "Fault current, coordination of breakers, and the rating of equipment against it.",
    "Fuel-fired heaters, their air and their fumes.",
    "Whatever local rule or inspector asks beyond this list.",
)

ASKED = (
    ("service_complete", "Service complete"),
    ("meter_base", "Meter base in place"),
    ("panel_in_place", "Panel in place"),
    ("conductors_landed", "Conductors of live circuits brought in and landed"),
    ("others_made_safe", "Conductors of other circuits capped and off their breakers"),
    ("bonded", "Bonding done"),
    ("electrode", "Grounding electrode and its conductor done"),
    ("cover_on", "Cover on the panel"),
    ("locked_off", "Breakers that stay off locked and labelled"),
    ("ground_fault", "Ground-fault protection of construction receptacles"),
)


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
    permit_says: str = ""
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
    heat: tuple[str, ...]
    temporary: tuple[Check, ...]
    load: ServiceLoad
    schedules: tuple[PanelSchedule, ...]
    reference: str
    authorised: tuple[Authorised, ...] | None = None
    authorised_on: date | None = None
    warnings: tuple[str, ...] = ()
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
    warnings: tuple[str, ...] = ()
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
    checks.append(_outside("Rough-in accepted", outside.rough_in_accepted, reference))
    for name, what in ASKED:
        fact = getattr(hookup, name)
        verdict = {None: Verdict.UNKNOWN, True: Verdict.MEETS, False: Verdict.SHORT}[fact]
        says = {None: "nobody looked", True: "done", False: "not done"}[fact]
        checks.append(Check(what, verdict, says))
    says = f"{load.why}; see the load calculation"
    checks.append(Check("Service carries its load", load.verdict, says))
    for schedule in schedules:
        wrong = []
        for check in schedule.checks:
            if check.verdict is not Verdict.MEETS:
                wrong.append(check)
        says = "; ".join(f"{check.what}: {check.says}" for check in wrong) or "as it should be"
        verdicts = []
        for check in wrong:
            verdicts.append(check.verdict)
        verdict = worst(verdicts)
        checks.append(Check(f"Panel {schedule.panel.id}", verdict, says))
    return checks


def _chosen_check(chosen: Chosen | None) -> Check:
    if chosen is None:
        says = "nobody ranked what is wanted live, or the service's rating is not recorded"
        return Check("Circuits chosen", Verdict.UNKNOWN, says)
    says = f"{len(chosen.live)} of {chosen.bounds.circuits}, {len(chosen.left_out)} left out"
    return Check("Circuits chosen", Verdict.MEETS, says)


def _authorised_check(outside: Outside, warnings: Sequence[str]) -> Check:
    """Whether the house as recorded agrees with the circuits that the authority authorised."""
    named = len(outside.authorised or ())
    says = f"{named} named"
    if outside.hookup_reference:
        says += f", reference {outside.hookup_reference}"
    if warnings:
        return Check("Circuits authorised", Verdict.UNKNOWN, f"{says}; verify, see the warnings")
    return Check("Circuits authorised", Verdict.MEETS, says)


def _permit(outside: Outside) -> Check:
    if not outside.permit_says:
        return _outside("Permit issued", outside.permit_issued, outside.permit_reference)
    reference = outside.permit_reference
    says = outside.permit_says
    if reference:
        says = f"{outside.permit_says}, reference {reference}"
    return Check("Permit issued", Verdict.SHORT, says)


def _outside(what: str, fact: bool | None, reference: str) -> Check:
    verdict = {None: Verdict.UNKNOWN, True: Verdict.MEETS, False: Verdict.SHORT}[fact]
    said = {None: "not recorded", True: "yes", False: "not yet"}[fact]
    return Check(what, verdict, f"{said}, reference {reference}" if reference else said)


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
        want = wants.get(each.id) or Want(name="authorised", circuit=each.id)
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
        legs = " and ".join(chosen.legs[each.name])
        if line is None:
            size = "breaker to be chosen"
            if each.breaker_a:
                size = f"{each.breaker_a:g} A"
            line = Breaker("", each.name, f"{size}, {each.poles} pole", "temporary", each.name)
        breakers.append(replace(line, name=each.name, legs=legs, amps=each.amps))
    return tuple(breakers)


def _heat(
    hookup: Hookup,
    service: Service,
    load: ServiceLoad,
    chosen: Chosen | None,
    book: Rulebook,
) -> list[str]:
    """What temporary heat draws, what the pole could have carried, what the hookup can."""
    share = book.value("hookup.continuous_pct")
    lines = [*_heaters(hookup)]
    ratings = list(book.value("temporary.ratings_a").values())
    if service.temporary and service.temporary.rating_a:
        ratings = [service.temporary.rating_a]
    for rating in ratings:
        lines.append(
            f"A pole of {rating:g} A carries {heat_kw(rating, share):.2f} kW of heat hour after "
            f"hour with nothing else on it ({share:g} % of {rating:g} A at 240 V)"
        )
    if load.facts.rating_a:
        rating = load.facts.rating_a
        lines.append(
            f"This service of {rating:g} A carries {heat_kw(rating, share):.2f} kW by the same "
            "reckoning"
        )
    if chosen:
        lines.append(
            f"The live circuits take up {chosen.a_amps:.1f} A on leg A and {chosen.b_amps:.1f} A "
            f"on leg B, loads of hours counted at {10000 / share:g} %"
        )
    if hookup.warming is not None and chosen is not None:
        lines.append(_warming(hookup.warming, chosen, service.volts))
    return lines


def _heaters(hookup: Hookup) -> Iterator[str]:
    """What each want draws that runs for hours, as heaters do."""
    for want in hookup.wants:
        if not want.continuous or not want.volt_amperes:
            continue
        legs = "one leg"
        if want.volts > 150:
            legs = "each leg"
        yield (
            f"{want.name}: {want.volt_amperes / 1000:g} kW at {want.volts:g} V is "
            f"{want.volt_amperes / want.volts:.1f} A on {legs}"
        )


def _warming(room: Warming, chosen: Chosen, volts: float) -> str:
    """Hours to warm a volume with the heaters that are live, told as an estimate alone."""
    heaters = []
    for each in chosen.live:
        if each.continuous:
            heaters.append(each)
    kw = sum((x.amps or 0) * (volts if x.poles > 1 else volts / 2) for x in heaters) / 1000
    found = hours_to_warm(room.volume_m3, kw, room.from_c, room.to_c, room.loss_w_per_k)
    span = f"{room.volume_m3:,.0f} m³ from {room.from_c:g} to {room.to_c:g} °C with {kw:g} kW"
    return f"ESTIMATE, {span}: {found.working}. {found.caution}"

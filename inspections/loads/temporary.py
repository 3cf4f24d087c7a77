"""The temporary service on its pole: load, ground-fault protection, wiring, and its end."""

from collections.abc import Iterator
from datetime import date

from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.service import TemporaryReceptacle, TemporaryService
from inspections.checker.rulebook import Limit, Rulebook

from .service import Check

T = "temporary."
RECEPTACLE = ("receptacle_v", "receptacle_a", "program_allowed")


def temporary_checks(
    house: House, book: Rulebook, until: date | None = None, gone_on: date | None = None
) -> list[Check]:
    """What the rules ask of the temporary service; nothing where the house has none.

    `until` is the day by which the authority wants it gone, `gone_on` the day it went.
    """
    pole = None
    if house.service:
        pole = house.service.temporary
    if pole is None:
        return []
    checks = [*_load(pole, book), *_receptacles(pole, book), *_wiring(pole, book)]
    return [*checks, *_end(until, gone_on)]


def _load(pole: TemporaryService, book: Rulebook) -> Iterator[Check]:
    usual = book[f"{T}ratings_a"]
    if pole.rating_a is None:
        words = " or ".join(f"{amps:g}" for amps in usual.value.values())
        says = f"nobody recorded its rating; such poles give {words} A as a rule"
        yield Check("Rating", Verdict.UNKNOWN, says, (usual,))
        return
    missing = []
    for want in pole.on_it:
        if want.volt_amperes is None:
            missing.append(want.name)
    if missing:
        says = f"nobody said what {', '.join(missing)} draws"
        yield Check("Load on it", Verdict.UNKNOWN, says)
        return
    legs, told = _on_legs(pole, book.value("hookup.continuous_pct"))
    verdict = Verdict.SHORT
    if max(legs) <= pole.rating_a + 1e-9:
        verdict = Verdict.MEETS
    says = f"{told}: {legs[0]:.1f} and {legs[1]:.1f} A of {pole.rating_a:g} A"
    yield Check("Load on it", verdict, says)


def _on_legs(pole: TemporaryService, continuous_pct: float) -> tuple[list[float], str]:
    """The amperes of each leg, the largest load first and each on the freer leg; and its parts."""
    legs = [0.0, 0.0]
    told: list[str] = []
    for want in sorted(pole.on_it, key=lambda x: -(x.volt_amperes or 0)):
        amps = (want.volt_amperes or 0.0) / want.volts
        if want.continuous:
            amps *= 100 / continuous_pct
        on = [0, 1]
        if want.volts <= 150:
            on = [legs.index(min(legs))]
        for leg in on:
            legs[leg] += amps
        told.append(f"{want.name} {amps:.1f} A")
    return legs, " + ".join(told) or "nothing recorded on it"


def _receptacles(pole: TemporaryService, book: Rulebook) -> Iterator[Check]:
    volts, amps, program = (book[T + name] for name in RECEPTACLE)
    months = book.get(f"{T}test_months")
    for each in pole.receptacles:
        if each.volts > volts.value or each.amperes > amps.value:
            continue
        verdict, says = _ground_fault(each, bool(program.value), months)
        limits = [volts, amps, program]
        if months:
            limits.append(months)
        yield Check(f"Ground fault, {each.name}", verdict, says, tuple(limits))


def _ground_fault(
    each: TemporaryReceptacle, program_allowed: bool, months: Limit | None
) -> tuple[Verdict, str]:
    what, ago = f"{each.volts:g} V, {each.amperes:g} A", each.tested_months_ago
    if each.gfci:
        return Verdict.MEETS, f"{what}, GFCI"
    if each.assured_program and program_allowed:
        under = f"{what}, under an assured grounding programme"
        if ago is None:
            return Verdict.UNKNOWN, f"{under}; nobody recorded when it was tested"
        if months is not None and ago > months.value:
            return Verdict.SHORT, f"{under}, tested {ago:g} months ago; {months.value:g} at most"
        return Verdict.MEETS, f"{under}, tested {ago:g} months ago"
    if each.gfci is None and not each.assured_program:
        return Verdict.UNKNOWN, f"{what}; nobody recorded its protection"
    return Verdict.SHORT, f"{what} without ground-fault protection; put a GFCI before it"


def _wiring(pole: TemporaryService, book: Rulebook) -> Iterator[Check]:
    asked = (
        ("off_floor", "Conductors off the floor", pole.conductors_off_floor),
        ("lamps_guarded", "Lamps guarded", pole.lamps_guarded),
        ("disconnects", "Circuits can be cut off", pole.disconnects),
    )
    for name, what, fact in asked:
        limit = book.get(T + name)
        if limit is not None and limit.value:
            yield Check(what, _told(fact), _words(fact), (limit,))
    support = book.get(f"{T}support_mm")
    if support is not None:
        if pole.support_mm is None:
            yield Check("Support", Verdict.UNKNOWN, "nobody measured", (support,))
        else:
            fits = pole.support_mm <= support.value + 1e-6
            says = f"{pole.support_mm:,.0f} mm between supports; {support.printed} at most"
            yield Check("Support", Verdict.MEETS if fits else Verdict.SHORT, says, (support,))
    feeds = book[f"{T}feeds_house"]
    if pole.feeds_house is None:
        fact = None
    else:
        fact = pole.feeds_house == feeds.value
    if pole.feeds_house:
        says = "joined to the house's own wiring"
    else:
        says = _words(fact)
    yield Check("Apart from the house's panel", _told(fact), says, (feeds,))


def _end(until: date | None, gone_on: date | None) -> Iterator[Check]:
    what = "Removal"
    if gone_on is not None:
        yield Check(what, Verdict.MEETS, f"gone on {gone_on.isoformat()}")
    elif until is not None:
        says = f"to be gone by {until.isoformat()}; it holds the final until then"
        yield Check(what, Verdict.LOOK, says)
    else:
        says = "no day recorded by which it goes; it holds the final until it is gone"
        yield Check(what, Verdict.LOOK, says)


def generator_exempt(kw: float, two_wire: bool, isolated: bool, book: Rulebook) -> bool:
    """Whether receptacles of a portable generator need no GFCI (29 CFR 1926.404(b)(1)(ii))."""
    return two_wire and isolated and kw <= float(book.value(f"{T}generator_kw"))


def hand_lamp_meets(volts: float, gfci: bool, book: Rulebook) -> bool:
    """Whether a portable lamp may be used in a wet place (29 CFR 1926.405(a)(2)(ii)(G))."""
    return gfci or volts <= float(book.value(f"{T}hand_lamp_v"))


def _told(fact: bool | None) -> Verdict:
    if fact is None:
        return Verdict.UNKNOWN
    if fact:
        return Verdict.MEETS
    return Verdict.SHORT


def _words(fact: bool | None) -> str:
    return {None: "nobody looked", True: "as it should be", False: "not so; put it right"}[fact]

"""The temporary service on its pole: load, ground-fault protection, wiring, and its end."""

from collections.abc import Iterator
from datetime import date

from config.messages.message import Amperes, Joined, Length, Listed, Rounding, Text, Value
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.service import TemporaryReceptacle, TemporaryService
from inspections.checker.rulebook import Limit, Rulebook

from . import pole_messages as says
from .check_messages import amps
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
        ratings = Listed(tuple(map(Amperes, usual.value.values())), "or")
        told = says.NO_RATING(ratings=ratings)
        yield Check(says.RATING(), Verdict.INFO_NEEDED, told, (usual,))
        return
    missing = []
    for want in pole.on_it:
        if want.volt_amperes is None:
            missing.append(want.name)
    if missing:
        told = says.NO_LOAD(names=Listed(tuple(missing)))
        yield Check(says.LOAD_ON_IT(), Verdict.INFO_NEEDED, told)
        return
    legs, parts = _on_legs(pole, book.value("hookup.continuous_pct"))
    verdict = Verdict.NOT_TO_CODE
    if max(legs) <= pole.rating_a + 1e-9:
        verdict = Verdict.OK
    told = says.LOAD_SAYS(
        parts=parts, a=amps(legs[0]), b=amps(legs[1]), rating=Amperes(pole.rating_a)
    )
    yield Check(says.LOAD_ON_IT(), verdict, told)


def _on_legs(pole: TemporaryService, continuous_pct: float) -> tuple[list[float], Value]:
    """The amperes of each leg, the largest load first and each on the freer leg; and its parts."""
    legs = [0.0, 0.0]
    told: list[Text] = []
    for want in sorted(pole.on_it, key=lambda x: -(x.volt_amperes or 0)):
        current = (want.volt_amperes or 0.0) / want.volts
        if want.continuous:
            current *= 100 / continuous_pct
        on = [0, 1]
        if want.volts <= 150:
            on = [legs.index(min(legs))]
        for leg in on:
            legs[leg] += current
        told.append(says.PART(what=want.name, amps=amps(current)))
    if not told:
        return legs, says.NOTHING_ON_IT()
    return legs, Joined(tuple(told), " + ")


def _receptacles(pole: TemporaryService, book: Rulebook) -> Iterator[Check]:
    volts, most, program = (book[T + name] for name in RECEPTACLE)
    months = book.get(f"{T}test_months")
    for each in pole.receptacles:
        if each.volts > volts.value or each.amperes > most.value:
            continue
        verdict, told = _ground_fault(each, bool(program.value), months)
        limits = [volts, most, program]
        if months:
            limits.append(months)
        yield Check(says.GROUND_FAULT(receptacle=each.name), verdict, told, tuple(limits))


def _ground_fault(
    each: TemporaryReceptacle, program_allowed: bool, months: Limit | None
) -> tuple[Verdict, Text]:
    what = says.AT(volts=each.volts, amps=Amperes(each.amperes))
    ago = each.tested_months_ago
    if each.gfci:
        return Verdict.OK, says.GFCI(receptacle=what)
    if each.assured_program and program_allowed:
        if ago is None:
            return Verdict.INFO_NEEDED, says.PROGRAM_UNTESTED(receptacle=what)
        if months is not None and ago > months.value:
            late = says.PROGRAM_LATE(receptacle=what, n=ago, most=months.value)
            return Verdict.NOT_TO_CODE, late
        return Verdict.OK, says.PROGRAM_TESTED(receptacle=what, n=ago)
    if each.gfci is None and not each.assured_program:
        return Verdict.INFO_NEEDED, says.NO_PROTECTION(receptacle=what)
    return Verdict.NOT_TO_CODE, says.UNPROTECTED(receptacle=what)


def _wiring(pole: TemporaryService, book: Rulebook) -> Iterator[Check]:
    asked = (
        ("off_floor", says.OFF_FLOOR, pole.conductors_off_floor),
        ("lamps_guarded", says.LAMPS_GUARDED, pole.lamps_guarded),
        ("disconnects", says.DISCONNECTS, pole.disconnects),
    )
    for name, what, fact in asked:
        limit = book.get(T + name)
        if limit is not None and limit.value:
            yield Check(what(), _told(fact), _words(fact), (limit,))
    support = book.get(f"{T}support_mm")
    if support is not None:
        if pole.support_mm is None:
            yield Check(says.SUPPORT(), Verdict.INFO_NEEDED, says.NOT_MEASURED(), (support,))
        else:
            fits = pole.support_mm <= support.value + 1e-6
            told = says.SUPPORT_SAYS(
                found=Length(pole.support_mm), most=Length(support.value, Rounding.DOWN)
            )
            verdict = Verdict.NOT_TO_CODE
            if fits:
                verdict = Verdict.OK
            yield Check(says.SUPPORT(), verdict, told, (support,))
    feeds = book[f"{T}feeds_house"]
    if pole.feeds_house is None:
        fact = None
    else:
        fact = pole.feeds_house == feeds.value
    told = _words(fact)
    if pole.feeds_house:
        told = says.JOINED()
    yield Check(says.APART(), _told(fact), told, (feeds,))


def _end(until: date | None, gone_on: date | None) -> Iterator[Check]:
    what = says.REMOVAL()
    if gone_on is not None:
        yield Check(what, Verdict.OK, says.GONE(day=gone_on))
    elif until is not None:
        yield Check(what, Verdict.VERIFY, says.GONE_BY(day=until))
    else:
        yield Check(what, Verdict.VERIFY, says.NO_END())


def generator_exempt(kw: float, two_wire: bool, isolated: bool, book: Rulebook) -> bool:
    """Whether receptacles of a portable generator need no GFCI (29 CFR 1926.404(b)(1)(ii))."""
    return two_wire and isolated and kw <= float(book.value(f"{T}generator_kw"))


def hand_lamp_meets(volts: float, gfci: bool, book: Rulebook) -> bool:
    """Whether a portable lamp may be used in a wet place (29 CFR 1926.405(a)(2)(ii)(G))."""
    return gfci or volts <= float(book.value(f"{T}hand_lamp_v"))


def _told(fact: bool | None) -> Verdict:
    if fact is None:
        return Verdict.INFO_NEEDED
    if fact:
        return Verdict.OK
    return Verdict.NOT_TO_CODE


def _words(fact: bool | None) -> Text:
    if fact is None:
        return says.NOT_CHECKED()
    if fact:
        return says.AS_REQUIRED()
    return says.NOT_SO()

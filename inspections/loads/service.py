"""The service of a house: every way to its load, what each says of it, and its conductors."""

from collections.abc import Iterable
from dataclasses import dataclass

from config.messages.message import Amperes, Listed, Text, Value
from inspections.checker.finding import Verdict
from inspections.checker.rulebook import Limit, Rulebook

from . import check_messages as says
from .cec import single_dwelling
from .check_messages import amps
from .conductors import (
    SIZES,
    Sized,
    bonding_conductor,
    electrode_conductor,
    rank,
    service_conductor,
    size_words,
    up_to,
)
from .facts import LoadFacts
from .manufactured import manufactured
from .nec_optional import optional
from .nec_standard import standard
from .ways import Way, WayRole


@dataclass(frozen=True, slots=True)
class Check:
    """One thing held against the service, with its verdict in words."""

    what: Text
    verdict: Verdict
    says: Value
    limits: tuple[Limit, ...] = ()


def worst(found: Iterable[Verdict]) -> Verdict:
    """The worst of verdicts: short, then unknown, then look; meets where there are none."""
    met = set(found)
    order = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED, Verdict.VERIFY)
    for verdict in order:
        if verdict in met:
            return verdict
    return Verdict.OK


@dataclass(frozen=True)
class ServiceLoad:
    """The calculation of one house by one rulebook."""

    facts: LoadFacts
    rulebook: Rulebook
    ways: tuple[Way, ...]
    need_a: float
    """The least current that the service must be able to carry."""
    size_a: float | None
    """The next standard rating; None past the largest in the table."""
    why: Text | None
    """The way or the rule that gives it, as a part of a sentence; None for no load at all."""
    checks: tuple[Check, ...]
    sized: tuple[Sized, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst of the checks: short before unknown before meets."""
        verdicts = []
        for check in self.checks:
            verdicts.append(check.verdict)
        return worst(verdicts)


def ways_of(facts: LoadFacts, book: Rulebook) -> tuple[Way, ...]:
    """Every way that the code gives for these facts."""
    if book.code == "CEC":
        return single_dwelling(facts, book)
    if facts.manufactured:
        return (manufactured(facts, book), standard(facts, book))
    least = book.value("optional-load.min_a")
    if facts.rating_a is not None and facts.rating_a < least:
        return (standard(facts, book),)
    return (standard(facts, book), optional(facts, book))


def service_load(facts: LoadFacts, book: Rulebook) -> ServiceLoad:
    """The whole calculation: each way, the least service, and the conductors of it."""
    ways = ways_of(facts, book)
    required = []
    offered = []
    for way in ways:
        if way.role is WayRole.REQUIRED:
            required.append(way)
        elif way.role is WayRole.CHOICE and not facts.manufactured:
            offered.append(way)
    least = book.get("service.min_a")
    if facts.manufactured:
        least = None
    need, why = _need(required, offered, least)
    size = up_to(book.value("service.sizes_a"), round(need, 6))
    checks = (*_doubts(facts), *_checks(facts, book, required, offered, least))
    rating = facts.rating_a or size
    sized: tuple[Sized, ...] = ()
    if rating:
        sized = _sized(facts, rating, book)
    return ServiceLoad(facts, book, ways, need, size, why, checks, sized)


def _need(
    required: list[Way], offered: list[Way], least: Limit | None
) -> tuple[float, Text | None]:
    """The least current of the service, and the way or the rule that asks for it."""
    need = 0.0
    why: Text | None = None
    if required:
        top = max(required, key=lambda way: way.amps)
        need, why = top.amps, says.BY_WAY(way=top.title)
    if offered:
        low = min(offered, key=lambda way: way.amps)
        if low.amps > need:
            need, why = low.amps, says.BY_SMALLER_WAY(way=low.title)
    if least is not None and need < least.value:
        need, why = least.value, says.BY_MINIMUM()
    return need, why


def _doubts(facts: LoadFacts) -> list[Check]:
    checks: list[Check] = []
    for doubt in facts.doubts:
        checks.append(Check(says.FACTS(), Verdict.INFO_NEEDED, doubt))
    return checks


def _checks(
    facts: LoadFacts,
    book: Rulebook,
    required: list[Way],
    offered: list[Way],
    least: Limit | None,
) -> list[Check]:
    if facts.rating_a is None:
        unrated = says.NO_SERVICE_RATING()
        return [Check(says.SERVICE_RATING(), Verdict.INFO_NEEDED, unrated)]
    rating = facts.rating_a
    checks = []
    for way in required:
        checks.append(_against(way, rating))
    if offered:
        checks.append(_against_offered(offered, rating))
    if least is not None:
        verdict = Verdict.NOT_TO_CODE
        if rating >= least.value:
            verdict = Verdict.OK
        told = says.MINIMUM_SAYS(rating=Amperes(rating), least=Amperes(least.value))
        checks.append(Check(says.MINIMUM_SERVICE(), verdict, told, (least,)))
    if facts.conductor:
        checks.append(_conductor(facts, rating, book))
    return checks


def _against_offered(offered: list[Way], rating: float) -> Check:
    """The rating against the ways of which any may be used."""
    told = []
    verdict = Verdict.NOT_TO_CODE
    for way in offered:
        told.append(says.WAY_AMPS(way=way.title, amps=amps(way.amps)))
        if way.amps <= rating + 1e-9:
            verdict = Verdict.OK
    line = says.OFFERED_SAYS(rating=Amperes(rating), ways=Listed(tuple(told)))
    return Check(says.OFFERED(), verdict, line)


def _against(way: Way, rating: float) -> Check:
    verdict = Verdict.NOT_TO_CODE
    if way.amps <= rating + 1e-9:
        verdict = Verdict.OK
    told = says.WAY_SAYS(amps=amps(way.amps), rating=Amperes(rating))
    return Check(says.WAY(way=way.title, section=way.section), verdict, told)


def _conductor(facts: LoadFacts, rating: float, book: Rulebook) -> Check:
    what = says.SERVICE_CONDUCTORS()
    if facts.material is None:
        unsaid = says.NO_MATERIAL(size=_size(facts.conductor))
        return Check(what, Verdict.INFO_NEEDED, unsaid)
    wanted = service_conductor(rating, facts.material, book)
    if not wanted.size or facts.conductor not in SIZES:
        return Check(what, Verdict.INFO_NEEDED, says.NO_SIZE(rating=Amperes(rating)))
    enough = rank(facts.conductor) >= rank(wanted.size)
    told = says.CONDUCTOR_SAYS(
        size=size_words(facts.conductor),
        material=says.MATERIALS[facts.material](),
        wanted=wanted.words,
    )
    return Check(what, Verdict.OK if enough else Verdict.NOT_TO_CODE, told, wanted.limits)


def _size(conductor: str | None) -> str:
    """A conductor's size with its unit; one that no table has as it was recorded."""
    if conductor in SIZES:
        return size_words(str(conductor))
    return conductor or ""


def _sized(facts: LoadFacts, rating: float, book: Rulebook) -> tuple[Sized, ...]:
    materials = ["copper", "aluminum"]
    if facts.material:
        materials = [facts.material]
    sized = []
    for material in materials:
        sized.append(service_conductor(rating, material, book))
    electrode = facts.electrode or "water_pipe"
    for material, each in zip(materials, tuple(sized), strict=True):
        size = each.size
        if facts.conductor and facts.material:
            size = facts.conductor
        if size in SIZES:
            sized.append(electrode_conductor(size, material, electrode, book))
    sized.append(bonding_conductor(rating, book))
    unique = {}
    for each in sized:
        unique[(each.what, each.size)] = each
    return tuple(unique.values())

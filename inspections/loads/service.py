"""The service of a house: every way to its load, what each says of it, and its conductors."""

from collections.abc import Iterable
from dataclasses import dataclass

from inspections.checker.finding import Verdict
from inspections.checker.rulebook import Limit, Rulebook

from .cec import single_dwelling
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

    what: str
    verdict: Verdict
    says: str
    limits: tuple[Limit, ...] = ()


def worst(found: Iterable[Verdict]) -> Verdict:
    """The worst of verdicts: short, then unknown, then look; meets where there are none."""
    met = set(found)
    order = (Verdict.SHORT, Verdict.UNKNOWN, Verdict.LOOK)
    for verdict in order:
        if verdict in met:
            return verdict
    return Verdict.MEETS


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
    why: str
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


def _need(required: list[Way], offered: list[Way], least: Limit | None) -> tuple[float, str]:
    """The least current of the service, and the way or the rule that asks for it."""
    need, why = 0.0, ""
    if required:
        top = max(required, key=lambda way: way.amps)
        need, why = top.amps, f"{top.title}: {top.amps:.1f} A"
    if offered:
        low = min(offered, key=lambda way: way.amps)
        if low.amps > need:
            need, why = low.amps, f"{low.title}, the smaller of those offered: {low.amps:.1f} A"
    if least is not None and need < least.value:
        need, why = least.value, f"a one-family dwelling has at least {least.value:g} A"
    return need, why


def _doubts(facts: LoadFacts) -> list[Check]:
    checks: list[Check] = []
    for doubt in facts.doubts:
        checks.append(Check("Facts", Verdict.UNKNOWN, doubt))
    return checks


def _checks(
    facts: LoadFacts,
    book: Rulebook,
    required: list[Way],
    offered: list[Way],
    least: Limit | None,
) -> list[Check]:
    if facts.rating_a is None:
        says = "nobody recorded the rating of the service or of its panel"
        return [Check("Service rating", Verdict.UNKNOWN, says)]
    rating = facts.rating_a
    checks = []
    for way in required:
        checks.append(_against(way, rating))
    if offered:
        checks.append(_against_offered(offered, rating))
    if least is not None:
        verdict = Verdict.SHORT
        if rating >= least.value:
            verdict = Verdict.MEETS
        says = f"{rating:g} A; a one-family dwelling has at least {least.value:g} A"
        checks.append(Check("Least service", verdict, says, (least,)))
    if facts.conductor:
        checks.append(_conductor(facts, rating, book))
    return checks


def _against_offered(offered: list[Way], rating: float) -> Check:
    """The rating against the ways of which any may be used."""
    told = []
    verdict = Verdict.SHORT
    for way in offered:
        told.append(f"{way.title} {way.amps:.1f} A")
        if way.amps <= rating + 1e-9:
            verdict = Verdict.MEETS
    says = f"{rating:g} A against {'; '.join(told)}; the code lets either be used"
    return Check("Load by the ways offered", verdict, says)


def _against(way: Way, rating: float) -> Check:
    verdict = Verdict.SHORT
    if way.amps <= rating + 1e-9:
        verdict = Verdict.MEETS
    says = f"{way.amps:.1f} A asked for, {rating:g} A there"
    return Check(f"{way.title} ({way.section})", verdict, says)


def _conductor(facts: LoadFacts, rating: float, book: Rulebook) -> Check:
    what = "Service conductors"
    if facts.material is None:
        says = f"{facts.conductor} recorded, but not whether copper or aluminum"
        return Check(what, Verdict.UNKNOWN, says)
    wanted = service_conductor(rating, facts.material, book)
    if not wanted.size or facts.conductor not in SIZES:
        says = f"the tables have no size for {rating:g} A"
        return Check(what, Verdict.UNKNOWN, says)
    enough = rank(facts.conductor) >= rank(wanted.size)
    says = f"{size_words(facts.conductor)} {facts.material} there, {wanted.words} asked for"
    return Check(what, Verdict.MEETS if enough else Verdict.SHORT, says, wanted.limits)


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

"""Holds: the reasons why an area may not be covered. Pure: facts in, holds out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from inspections.checker.finding import Verdict


class Standing(StrEnum):
    """Where one item stands, from its finding and what was seen."""

    PASSED = "passed"
    OPEN = "open"
    FAILING = "failing"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Seen:
    """The latest observation of an item: what was seen, and of which facts."""

    passed: bool
    fingerprint: str


def item_standing(verdict: str, fingerprint: str, seen: Seen | None) -> Standing:
    """Where an item stands.

    A tick cannot pass what the figures fail or a fact that is missing; a pass belongs to
    the facts that were seen; a fail stands until something changes or somebody looks again.
    """
    if verdict == Verdict.UNKNOWN:
        return Standing.UNKNOWN
    of_this = seen if seen and seen.fingerprint == fingerprint else None
    if verdict == Verdict.SHORT or (of_this and not of_this.passed):
        return Standing.FAILING
    if verdict == Verdict.MEETS or of_this:
        return Standing.PASSED
    return Standing.OPEN


@dataclass(frozen=True, slots=True)
class PermitFacts:
    """What is known of a permit."""

    issued_on: date | None = None
    expires_on: date | None = None


@dataclass(frozen=True, slots=True)
class AreaFacts:
    """All that an area's holds follow from. `items` counts the current ones by standing."""

    today: date
    permit: PermitFacts | None
    has_house: bool
    items: Sequence[tuple[Standing, int]]


@dataclass(frozen=True, slots=True)
class Hold:
    """One reason why an area may not be covered, who can lift it and how."""

    reason: str
    says: str
    lifted_by: str


def holds(area: AreaFacts) -> tuple[Hold, ...]:
    """Every hold on an area, the earliest stage first."""
    return (*_permit_holds(area), *_house_holds(area), *_item_holds(area))


def _permit_holds(area: AreaFacts) -> Iterator[Hold]:
    if area.permit is None:
        yield Hold("permit", "No permit has been applied for.", "office: apply for the permit")
    elif area.permit.issued_on is None:
        yield Hold("permit", "The permit is not issued yet.", "office: record the permit number")
    elif area.permit.expires_on and area.permit.expires_on < area.today:
        yield Hold(
            "permit",
            f"The permit expired on {area.permit.expires_on.isoformat()}.",
            "office: ask the authority for an extension",
        )


def _house_holds(area: AreaFacts) -> Iterator[Hold]:
    if not area.has_house:
        yield Hold(
            "house", "Nothing is recorded of what was roughed in.", "crew lead: record the house"
        )
    elif not area.items:
        yield Hold(
            "house",
            "The recorded house has nothing in this area to check.",
            "crew lead: record what was roughed in here",
        )


_ITEM_WORDS = {
    Standing.FAILING: ("failing", "crew lead: mend it, then record the house or look again"),
    Standing.UNKNOWN: ("short of a fact", "crew lead: measure what is missing and record it"),
    Standing.OPEN: ("waiting for eyes or a tape", "crew: look and tick"),
}


def _item_holds(area: AreaFacts) -> Iterator[Hold]:
    counts = dict(area.items)
    for standing, (words, lifted_by) in _ITEM_WORDS.items():
        if count := counts.get(standing, 0):
            noun = "item is" if count == 1 else "items are"
            yield Hold(standing.value, f"{count} rough-in {noun} {words}.", lifted_by)

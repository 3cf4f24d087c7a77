"""Plans that are drawn once: each is a function of what is given to it here, and of nothing else.

Checking a house and laying out its words takes a quarter of a second, and a plan is the same until
a fact of it changes. Rows of houses and of insulation are never edited, so that they stand for
their contents. A house itself is not kept: it is large, and read only where a plan is not there.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

from config.languages import measured_in, say
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.house.rooms import Storey
from inspections.drawing.geometry import storeys_drawn
from inspections.drawing.marks import Mark, marks_of
from inspections.drawing.storey_plan import PlanLine, plan_of_storey
from inspections.models import HouseRevision, InsulationChoice
from inspections.selectors import house_with

KEPT = 32
"""Houses whose marks are kept, in each process of the site; the one asked for longest ago goes."""


@dataclass(frozen=True, slots=True)
class Marked:
    """The storeys of a house that can be drawn, and where each finding is shown, by its key."""

    storeys: Sequence[Storey]
    marks: Mapping[str, Mark]


@lru_cache(maxsize=KEPT)
def marked(revision: HouseRevision, insulation: InsulationChoice | None) -> Marked:
    """What of a house with that insulation is the same for every reader."""
    house, rulebook = house_with(revision, insulation)
    storeys = storeys_drawn(house)
    if not storeys:
        return Marked((), {})
    return Marked(storeys, marks_of(house, check(house, rulebook)))


@dataclass(frozen=True, slots=True)
class PlanWanted:
    """All that a plan depends on but the house."""

    storey: str
    lines: tuple[PlanLine, ...]
    states: tuple[tuple[str, Verdict], ...]
    language: str
    imperial: bool


@lru_cache(maxsize=2 * KEPT)
def drawn(revision: HouseRevision, insulation: InsulationChoice | None, wanted: PlanWanted) -> str:
    """The plan of a storey as SVG."""
    house, _ = house_with(revision, insulation)
    with measured_in(wanted.imperial):
        saying = partial(say, language=wanted.language)
        return plan_of_storey(house, wanted.storey, wanted.lines, dict(wanted.states), saying)

"""What is different between two plans: who moves where."""

from collections.abc import Callable
from dataclasses import dataclass

from config.messages.message import Value

from .plan_messages import ANOTHER_TRADE, CREW_WHEN, MOVED, NOT_PLANNED, full_name
from .problem import Placement, Problem


@dataclass(frozen=True, slots=True)
class Reassignment:
    """One thing that is elsewhere in the later plan; None: it is not planned at all."""

    activity: str
    name: Value
    before: Placement | None
    after: Placement | None

    def told(self, say: Callable[[int], Value], crews: dict[str, str]) -> Value:
        """The move, with slots said and crews named."""
        before, after = _spot(self.before, say, crews), _spot(self.after, say, crews)
        return MOVED(what=self.name, before=before, after=after)


def plan_moves(
    problem: Problem, before: dict[str, Placement], after: dict[str, Placement]
) -> list[Reassignment]:
    """What moves to another day, part of a day or crew, the earliest first."""
    moves = []
    for each in problem.activities:
        if _key(before.get(each.id)) != _key(after.get(each.id)):
            was, now = before.get(each.id), after.get(each.id)
            moves.append(Reassignment(each.id, full_name(each), was, now))
    return sorted(moves, key=lambda move: (_first(move), move.activity))


def _key(spot: Placement | None) -> tuple[str, int] | None:
    if spot:
        return (spot.crew, spot.start)
    return None


def _first(move: Reassignment) -> int:
    starts = []
    for spot in (move.before, move.after):
        if spot:
            starts.append(spot.start)
    return min(starts, default=0)


def _spot(spot: Placement | None, say: Callable[[int], Value], crews: dict[str, str]) -> Value:
    if spot is None:
        return NOT_PLANNED()
    crew: Value = ANOTHER_TRADE()
    if spot.crew in crews:
        crew = crews[spot.crew]
    return CREW_WHEN(crew=crew, when=say(spot.start))

"""What is different between two plans: who moves where."""

from collections.abc import Callable
from dataclasses import dataclass

from .problem import Placement, Problem


@dataclass(frozen=True, slots=True)
class Reassignment:
    """One thing that is elsewhere in the later plan; None: it is not planned at all."""

    activity: str
    name: str
    before: Placement | None
    after: Placement | None

    def words(self, say: Callable[[int], str], crews: dict[str, str]) -> str:
        """The move in words, with slots said and crews named."""
        return f"{self.name}: {_spot(self.before, say, crews)} → {_spot(self.after, say, crews)}"


def plan_moves(
    problem: Problem, before: dict[str, Placement], after: dict[str, Placement]
) -> list[Reassignment]:
    """What moves to another day, part of a day or crew, the earliest first."""
    moves = []
    for each in problem.activities:
        if _key(before.get(each.id)) != _key(after.get(each.id)):
            moves.append(Reassignment(each.id, each.name, before.get(each.id), after.get(each.id)))
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


def _spot(spot: Placement | None, say: Callable[[int], str], crews: dict[str, str]) -> str:
    if spot is None:
        return "not planned"
    crew = crews.get(spot.crew, "another trade")
    return f"{crew}, {say(spot.start)}"

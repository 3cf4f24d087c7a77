"""The fewest receptacles for one space along a line, as a proposal with its proof."""

from collections.abc import Callable, Sequence
from math import ceil

from inspections.checker.geometry.floor_line import Space
from inspections.checker.house.boxes import Box

from .fewest import fewest, fewest_on_ring
from .proposal import Proposal, Unsolved

Options = Sequence[tuple[list[float], bool]]
"""Places to try, and whether they stand between studs; the later where the earlier fail."""
Put = Callable[[float], tuple[str, float, Box]]
"""The wall, the distance from its left end and the box, for a place on the line."""


def served(
    subject: str, space: Space, there: list[float], options: Options, reach: float, put: Put
) -> Proposal | Unsolved | None:
    """What a space needs; None when what is there serves it already."""
    if space.doubts:
        missing = ", ".join(f"{each.missing} at {each.where}" for each in space.doubts)
        return Unsolved(subject, f"nobody recorded: {missing}; record it first")
    for places, blocking in options:
        if space.ring:
            chosen = fewest_on_ring(space.length, there, places, reach)
        else:
            chosen = fewest(space.start, space.end, there, places, reach)
        if chosen == ():
            return None
        if chosen:
            proof = _proof(space, there, places, reach, len(chosen))
            return _proposed(subject, chosen, put, blocking, proof)
    return Unsolved(subject, "no free wall within reach; a receptacle elsewhere may serve")


def _proposed(
    subject: str, chosen: Sequence[float], put: Put, blocking: bool, proof: str
) -> Proposal:
    """A box at each of the places chosen, with where it stands in words."""
    boxes = []
    words = []
    for place in chosen:
        wall, from_left, box = put(place)
        boxes.append(box)
        words.append(f"wall {wall}, {from_left:,.0f} mm from its left end")
    says = f"{len(boxes)} more: {'; '.join(words)}"
    if blocking:
        says += " (between studs: needs blocking)"
    return Proposal(subject, tuple(boxes), says, proof)


def _proof(space: Space, there: list[float], places: list[float], reach: float, count: int) -> str:
    said = (
        f"every choice among {len(places)} places was weighed, with {len(there)} receptacles "
        f"there: none with {count - 1} more serves it"
    )
    bound = ceil(space.length / (2 * reach) - 1e-9)
    if not there and bound == count:
        said += f"; {space.length:,.0f} mm at {2 * reach:,.0f} mm a receptacle asks for {bound}"
    return said

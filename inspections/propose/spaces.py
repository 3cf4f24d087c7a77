"""The fewest receptacles for one space along a line, as a proposal with its proof."""

from collections.abc import Callable, Sequence
from math import ceil

from config.messages.message import Joined, Length, Listed, Value
from inspections.checker.asking.coverage import doubtful
from inspections.checker.asking.line_sentences import missing_words
from inspections.checker.geometry.floor_line import Space
from inspections.checker.house.boxes import Box

from . import proposal_messages as says
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
        missing = Listed(tuple(missing_words(doubtful(space.doubts))))
        return Unsolved(subject, says.NOT_RECORDED(what=missing))
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
    return Unsolved(subject, says.NO_REACH())


def _proposed(
    subject: str, chosen: Sequence[float], put: Put, blocking: bool, proof: Value
) -> Proposal:
    """A box at each of the places chosen, with where it stands in words."""
    boxes = []
    places = []
    for place in chosen:
        wall, from_left, box = put(place)
        boxes.append(box)
        places.append((wall, from_left))
    return Proposal(subject, tuple(boxes), says.more(places, blocking), proof)


def _proof(
    space: Space, there: list[float], places: list[float], reach: float, count: int
) -> Joined:
    told = [says.EVERY_CHOICE(places=len(places), there=len(there), n=count - 1)]
    bound = ceil(space.length / (2 * reach) - 1e-9)
    if not there and bound == count:
        told.append(says.BY_LENGTH(length=Length(space.length), reach=Length(2 * reach), n=bound))
    return Joined(tuple(told))

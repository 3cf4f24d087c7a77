"""Boxes and receptacles in sentences: up to three by their ids, more as a count."""

from collections.abc import Callable, Iterable, Sequence

from config.messages.message import Listed, Text, Value, message
from inspections.checker.asking.lines import MOST_NAMED, in_order
from inspections.checker.asking.points import NOT_RECORDED

OF_BOXES = message("named.of-boxes", "of boxes {boxes}", one="of box {boxes}")
OF_MANY_BOXES = message("named.of-many-boxes", "of {n} boxes")
RECEPTACLES = message("named.receptacles", "receptacles {boxes}", one="receptacle {boxes}")
MANY_RECEPTACLES = message("named.many-receptacles", "{n} receptacles")
FACTS = message("named.facts", "{n} facts, each in the working")
HEIGHT = message("missing.height", "the height {of_boxes}")


def _some(ids: Iterable[str], named: Callable[..., Text], counted: Callable[..., Text]) -> Text:
    ordered = in_order(ids)
    if len(ordered) > MOST_NAMED:
        return counted(n=len(ordered))
    return named(n=len(ordered), boxes=Listed(ordered))


def of_boxes(ids: Iterable[str]) -> Text:
    """Whose it is, after a noun: of box R1, of boxes R1 and R2, of 5 boxes."""
    return _some(ids, OF_BOXES, OF_MANY_BOXES)


def receptacles(ids: Iterable[str]) -> Text:
    """Receptacles by the ids of their boxes: receptacle R1, receptacles R1 and R2."""
    return _some(ids, RECEPTACLES, MANY_RECEPTACLES)


def parts_not_recorded(missing: Sequence[Value]) -> Text:
    """What is not recorded yet, as a sentence; many things are counted."""
    if len(missing) > MOST_NAMED:
        return NOT_RECORDED(what=FACTS(n=len(missing)))
    return NOT_RECORDED(what=Listed(tuple(missing)))

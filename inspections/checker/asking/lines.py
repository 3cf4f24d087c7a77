"""Parts of sentences that many rules share: ids in a list, and lines of working."""

from collections.abc import Callable, Collection, Iterable, Sequence

from config.messages.message import Joined, Listed, Message, Text, Value, message
from inspections.checker.asking.visual import natural

MOST_NAMED = 3
"""More ids than these are a number in a sentence; the working names all of them."""
NONE = message("none", "none")
OF_BOXES = message("named.of-boxes", "of boxes {boxes}", one="of box {boxes}")
OF_MANY_BOXES = message("named.of-many-boxes", "of {n} boxes")
RECEPTACLES = message("named.receptacles", "receptacles {boxes}", one="receptacle {boxes}")
MANY_RECEPTACLES = message("named.many-receptacles", "{n} receptacles")
HEIGHT = message("missing.height", "the height {of_boxes}")


def in_order(ids: Iterable[str]) -> tuple[str, ...]:
    """Each id once, R2 before R10."""
    return tuple(sorted(set(ids), key=natural))


def ids_listed(ids: Iterable[str]) -> Listed:
    """Every id in a list, R2 before R10."""
    return Listed(in_order(ids))


def parts_named_in(ids: Iterable[str]) -> Value:
    """Every id in a list, or that there is none."""
    ordered = in_order(ids)
    if not ordered:
        return NONE()
    return Listed(ordered)


def named_or_counted(few: Message, many: Message, ids: Collection[str], **holes: Value) -> Text:
    """The sentence with {ids} while they are few, else the one with {n}, their number."""
    ordered = in_order(ids)
    if len(ordered) > MOST_NAMED:
        return many(n=len(ordered), **holes)
    if few.count == "n":
        holes["n"] = len(ordered)
    return few(ids=Listed(ordered), **holes)


def sentences(said: Iterable[Value]) -> Value:
    """Sentences one after another, each once; empty for none."""
    every = tuple(dict.fromkeys(said))
    if len(every) == 1:
        return every[0]
    if every:
        return Joined(every)
    return ""


def beside(says: Value, lines: Sequence[Value]) -> tuple[Value, ...]:
    """Lines of working without the one that the sentence says already, unless it is alone."""
    others = tuple(line for line in lines if line != says)
    return others or (says,)


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

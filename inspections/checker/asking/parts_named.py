"""What is not recorded yet, as a sentence."""

from collections.abc import Sequence

from config.messages.message import Listed, Text, Value, message
from inspections.checker.asking.lines import MOST_NAMED
from inspections.checker.asking.points import NOT_RECORDED

FACTS = message("named.facts", "{n} facts, each in the working")


def parts_not_recorded(missing: Sequence[Value]) -> Text:
    """What is not recorded yet, as a sentence; many things are counted."""
    if len(missing) > MOST_NAMED:
        return NOT_RECORDED(what=FACTS(n=len(missing)))
    return NOT_RECORDED(what=Listed(tuple(missing)))

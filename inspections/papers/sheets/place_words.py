"""The place of a finding in few words: within its room, without what its sentence says already."""

import re

from config.languages import say
from config.messages.message import Joined, Text, Value
from inspections.checker.spot import Spot

STOREY_AND_ROOM = 2
"""Parts that the head of a room on paper has said."""


def place_beyond(spot: Spot, sentence: Value) -> Value:
    """The parts of a place in its room, but for an id that the sentence names."""
    said = set(re.findall(r"\w+", say(sentence)))
    parts: list[Value] = []
    for part in spot.parts[STOREY_AND_ROOM:]:
        if not _named_in(part, said):
            parts.append(part)
    if not parts:
        return ""
    return Joined(tuple(parts), ", ")


def _named_in(part: Value, said: set[str]) -> bool:
    """Whether a part is an id alone, as of a box or a cable, and the sentence has it."""
    if not isinstance(part, Text) or len(part.given) != 1:
        return False
    (given,) = part.given.values()
    if not isinstance(given, str) or given.islower():
        return False
    return given in said

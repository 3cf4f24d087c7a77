"""Rooms of which nothing is recorded yet that a rule requires something of."""

from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Message, message
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.finding import FindingWords


class Absent(StrEnum):
    """What of a room is not recorded."""

    WALLS = "walls"
    COUNTERS = "counters"
    FIXTURES = "fixtures"


@dataclass(frozen=True, slots=True)
class Unrecorded:
    """The facts of a finding on a room without the record that the rule rests on."""

    what: Absent


@dataclass(frozen=True, slots=True)
class _Said:
    what: Message
    why: Message
    remedy: Message


SAID = {
    Absent.WALLS: _Said(
        message("unrecorded.walls", "the walls of this room"),
        message("unrecorded.walls.why", "The requirement depends on where its walls run."),
        message("unrecorded.walls.remedy", "Record its walls, openings and receptacles."),
    ),
    Absent.COUNTERS: _Said(
        message("unrecorded.counters", "the counters of this kitchen"),
        message("unrecorded.counters.why", "The requirement depends on where its counters run."),
        message("unrecorded.counters.remedy", "Record its counters, fixtures and receptacles."),
    ),
    Absent.FIXTURES: _Said(
        message("unrecorded.fixtures", "the sinks, tubs and showers of this room"),
        message("unrecorded.fixtures.why", "The requirement depends on where its fixtures are."),
        message("unrecorded.fixtures.remedy", "Record them, or that there are none."),
    ),
}


def unrecorded_words(facts: Unrecorded) -> FindingWords:
    """What is not recorded, why it matters, and what to record."""
    said = SAID[facts.what]
    return FindingWords(NOT_RECORDED(what=said.what()), working=(said.why(),), remedy=said.remedy())

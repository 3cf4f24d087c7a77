"""Steps: what somebody can do next, and who. Pure.

A hold is lifted by one step or several; next steps of a job are drawn from them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from config.messages.message import Listed, Message, Value, message
from config.messages.stored import from_json, is_stored_text, to_json


class Who(StrEnum):
    """Whose step it is."""

    CREW = "crew"
    LEAD = "crew lead"
    OFFICE = "office"
    BUILDER = "builder"
    AUTHORITY = "authority"


_NAMES: Mapping[Who, Message] = {
    Who.CREW: message("who.crew", "crew"),
    Who.LEAD: message("who.lead", "lead"),
    Who.OFFICE: message("who.office", "office"),
    Who.BUILDER: message("who.builder", "builder"),
    Who.AUTHORITY: message("who.authority", "inspector"),
}
_LEAD_HAND = message("who.lead-hand", "lead hand")
_STEP = message("who.step", "{who}: {what}")


@dataclass(frozen=True, slots=True)
class Lift:
    """One way to lift a hold: who, and how."""

    who: Who
    how: Value


@dataclass(frozen=True, slots=True)
class NextStep:
    """One thing that moves a job on, for whoever of them gets to it first."""

    who: tuple[Who, ...]
    what: Value


def who_words(who: Iterable[Who], country: str = "") -> Value:
    """Who, in the words of the trade in that country."""
    names: list[Value] = []
    for each in who:
        if each is Who.LEAD and country == "CA":
            names.append(_LEAD_HAND())
        else:
            names.append(_NAMES[each]())
    return Listed(tuple(names), "or")


def step_words(step: NextStep, country: str = "") -> Value:
    """A step with who takes it, as one line."""
    return _STEP(who=who_words(step.who, country), what=step.what)


def steps_of(lifts: Iterable[Lift]) -> list[NextStep]:
    """The ways to lift a hold: those who do the same are named together."""
    by_how: dict[Value, list[Who]] = {}
    for each in lifts:
        by_how.setdefault(each.how, []).append(each.who)
    return [NextStep(tuple(who), how) for how, who in by_how.items()]


def stored_lifts(lifts: Iterable[Lift]) -> list[dict[str, Any]]:
    """How they are kept with a copy of a hold."""
    return [{"who": each.who.value, "how": to_json(each.how)} for each in lifts]


def read_lifts(stored: object) -> tuple[Lift, ...]:
    """What was kept of them; before there were messages that was "who or who: how, or who: how"."""
    if isinstance(stored, str):
        return tuple(_before(stored))
    lifts = []
    for each in stored if isinstance(stored, list) else ():
        lifts.append(Lift(Who(each["who"]), _how(each["how"])))
    return tuple(lifts)


def _how(stored: Any) -> Value:
    if is_stored_text(stored):
        return from_json(stored)
    return str(stored)


def _before(sentence: str) -> Iterable[Lift]:
    for part in sentence.split(", or "):
        who, colon, how = part.partition(": ")
        names = who.split(" or ")
        if not colon or not set(names) <= set(Who):
            yield Lift(Who.OFFICE, part)
            continue
        for name in names:
            yield Lift(Who(name), how)

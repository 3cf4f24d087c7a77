"""Who can take a step, in the words of the trade, and how steps are kept and read again."""

import pytest

from config.languages import say
from inspections.standing.hold_messages import PERMIT_APPLY, TRADE_LIFT
from inspections.standing.steps import (
    Lift,
    NextStep,
    Who,
    read_lifts,
    step_words,
    steps_of,
    stored_lifts,
    who_words,
)


@pytest.mark.parametrize(
    ("who", "country", "words"),
    [
        ([Who.LEAD], "", "lead"),
        ([Who.LEAD], "US", "lead"),
        ([Who.LEAD], "CA", "lead hand"),
        ([Who.CREW], "CA", "crew"),
        ([Who.AUTHORITY], "CA", "inspector"),
        ([Who.OFFICE, Who.LEAD], "CA", "office or lead hand"),
        ([Who.LEAD, Who.BUILDER], "US", "lead or builder"),
    ],
)
def test_a_lead_is_a_lead_hand_in_canada_and_nobody_else_is(who, country, words) -> None:
    assert say(who_words(who, country), "en") == words


def test_a_step_is_a_line_with_whoever_takes_it() -> None:
    step = NextStep((Who.OFFICE, Who.LEAD), "call the inspector")
    assert say(step_words(step, "CA"), "en") == "office or lead hand: call the inspector"
    assert say(step_words(step), "en") == "office or lead: call the inspector"


def test_those_who_do_the_same_are_named_together_in_the_order_they_come() -> None:
    lifts = [Lift(Who.OFFICE, "call"), Lift(Who.CREW, "strap it"), Lift(Who.BUILDER, "call")]
    assert steps_of(lifts) == [
        NextStep((Who.OFFICE, Who.BUILDER), "call"),
        NextStep((Who.CREW,), "strap it"),
    ]


def test_what_is_kept_of_lifts_is_read_as_it_was() -> None:
    lifts = (Lift(Who.OFFICE, PERMIT_APPLY()), Lift(Who.BUILDER, TRADE_LIFT()))
    kept = stored_lifts(lifts)
    assert [each["who"] for each in kept] == ["office", "builder"]
    assert read_lifts(kept) == lifts
    assert read_lifts([{"who": "crew lead", "how": "strap it"}]) == (Lift(Who.LEAD, "strap it"),)
    assert read_lifts(None) == ()


@pytest.mark.parametrize(
    ("sentence", "lifts"),
    [
        ("crew: strap it", [(Who.CREW, "strap it")]),
        ("office or builder: call them", [(Who.OFFICE, "call them"), (Who.BUILDER, "call them")]),
        (
            "crew lead: record it, or office: ask: now",
            [(Who.LEAD, "record it"), (Who.OFFICE, "ask: now")],
        ),
        # What names nobody is left to the office, whole, and what comes after is read as well.
        ("wait, or crew: strap it", [(Who.OFFICE, "wait"), (Who.CREW, "strap it")]),
        ("crew or plumber: call", [(Who.OFFICE, "crew or plumber: call")]),
        ("crew", [(Who.OFFICE, "crew")]),
        (" or ".join(Who) + ": call", [(each, "call") for each in Who]),
    ],
)
def test_a_sentence_of_before_there_were_messages_is_read(sentence, lifts) -> None:
    assert read_lifts(sentence) == tuple(Lift(who, how) for who, how in lifts)

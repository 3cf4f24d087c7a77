"""What is refused as a contradiction, or cannot be recorded now, is said in each language."""

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.utils.translation import npgettext, override, pgettext

from config.languages import say
from config.languages.available import TRANSLATED
from config.messages.message import HOLE, Joined, Listed, Message, Text, Value, messages
from inspections.standing.contradictions import (
    AnswerGiven,
    DeficiencyFacts,
    Reached,
    Spoken,
    Word,
    of_answer,
    of_milestone,
)
from inspections.standing.cover_layers import withdrawal_says
from inspections.standing.holds import AcceptanceFacts, AreaFacts, Standing, WithdrawalFacts, holds
from inspections.standing.inspection_states import FOLLOWS, InspectionNow, InspectionState
from inspections.standing.stages import Milestone

pytestmark = pytest.mark.any_database
LETTERS = re.compile("[a-z]{2}")
ALIKE = {"milestone.final"}
"""What Spanish says with the English word."""
MAY, JUNE = date(2026, 5, 1), date(2026, 6, 1)
TYPED = re.compile(r"zq\w*")
"""What a person typed or named, which no language says otherwise."""


def deficiency(**given) -> DeficiencyFacts:
    return DeficiencyFacts("zqa", "zqloft zqwing", "zqplate zqat zqtop", **given)


def answers() -> Iterator[Value]:
    for area in ("zqloft zqwing", ""):
        for word in Word:
            spoken = [Spoken(word, area and "zqa", area)]
            yield from of_answer(AnswerGiven(spoken, [deficiency(due_on=MAY)], begun_on=JUNE))
            yield from of_answer(AnswerGiven(spoken, still_open=[deficiency()], ends_the_job=True))
            yield from of_answer(AnswerGiven(spoken))
    lifted = [deficiency(), deficiency(corrected=True), deficiency(corrected=True, accepted=True)]
    yield from of_answer(AnswerGiven([], [deficiency()], lifted))


def milestones() -> Iterator[Value]:
    for milestone in Milestone:
        for reference in ("zqr", ""):
            yield from of_milestone(Reached(milestone, JUNE, before=(MAY, reference)))
    for milestone in (Milestone.HOOKUP, Milestone.FINAL):
        against = Reached(
            milestone,
            JUNE,
            temporary_until=MAY,
            refused_on=MAY,
            temporary_stands=True,
            still_open=[deficiency()],
        )
        yield from of_milestone(against)


def inspections() -> Iterator[Value]:
    now, starts = datetime(2026, 5, 1, 9, tzinfo=UTC), datetime(2026, 6, 1, 9, tzinfo=UTC)
    for state in FOLLOWS:
        for happening in InspectionState:
            why_not = None
            if happening is not InspectionState.ASKED:
                why_not = InspectionNow(state, starts, starts).why_not(happening, now)
            if why_not is not None:
                yield why_not


def area_holds() -> Iterator[Value]:
    accepted = AcceptanceFacts(True, MAY, unchanged=True)
    for withdrawal in (
        WithdrawalFacts(MAY, "zqplumber zqdrilled"),
        WithdrawalFacts(MAY, "zqplumber", answered=True, inspect_again=True),
    ):
        area = AreaFacts(MAY, None, True, [(Standing.OK, 1)], acceptance=accepted)
        for hold in holds(AreaFacts(**{**_fields(area), "withdrawals": [withdrawal]})):
            yield hold.says
            for lift in hold.lifted_by:
                yield lift.how


def _fields(area: AreaFacts) -> dict[str, Any]:
    return {name: getattr(area, name) for name in AreaFacts.__slots__}


def ids(value: object) -> Iterator[str]:
    """The id of every message in a value, however deep."""
    if isinstance(value, Text):
        yield value.id
        for each in value.given.values():
            yield from ids(each)
    elif isinstance(value, Listed | Joined):
        for each in value.of:
            yield from ids(each)


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("told", [answers, milestones, inspections, area_holds])
def test_every_sentence_is_translated_and_what_was_typed_stays(language: str, told) -> None:
    values = list(told())
    assert len(values) >= 4
    for value in values:
        english, said = say(value, "en"), say(value, language)
        assert said != english
        assert sorted(TYPED.findall(said)) == sorted(TYPED.findall(english))
        for id in ids(value):
            with override(language):
                found = messages()[id]
                english = found.one or found.text
                if id not in ALIKE and LETTERS.search(HOLE.sub("", english)):
                    assert _translated(found) != english, id


def _translated(found: Message) -> str:
    if found.one:
        return npgettext(found.id, found.one, found.text, 1)
    return pgettext(found.id, found.text)


@pytest.mark.parametrize("language", TRANSLATED)
def test_what_a_fault_does_names_every_area(language: str) -> None:
    said = say(withdrawal_says(["zqloft zqwing", "zqhall"]), language)
    assert "This withdraws" not in said
    assert TYPED.findall(said) == ["zqloft", "zqwing", "zqhall"]
    assert " and " not in said

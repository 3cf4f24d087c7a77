"""What is refused as a contradiction, and why an inspection cannot be that now, everywhere."""

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest

from config.languages import phrases
from config.languages.available import MANNERS
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
MAY, JUNE = date(2026, 5, 1), date(2026, 6, 1)
TYPED = re.compile(r"zq\w*")
"""What a person typed or named, which no language says otherwise."""


def deficiency(**given) -> DeficiencyFacts:
    return DeficiencyFacts("zqa", "zqloft zqwing", "zqplate zqat zqtop", **given)


def answers() -> Iterator[str]:
    for area in ("zqloft zqwing", ""):
        for word in Word:
            spoken = [Spoken(word, area and "zqa", area)]
            yield from of_answer(AnswerGiven(spoken, [deficiency(due_on=MAY)], begun_on=JUNE))
            yield from of_answer(AnswerGiven(spoken, still_open=[deficiency()], ends_the_job=True))
            yield from of_answer(AnswerGiven(spoken))
    lifted = [deficiency(), deficiency(corrected=True), deficiency(corrected=True, accepted=True)]
    yield from of_answer(AnswerGiven([], [deficiency()], lifted))


def milestones() -> Iterator[str]:
    for milestone in Milestone:
        for reference in ("zqr", ""):
            yield from of_milestone(Reached(milestone, JUNE, before=(MAY, reference)))
    for milestone in (Milestone.HOOKUP, Milestone.FINAL):
        against = {"temporary_until": MAY, "refused_on": MAY, "temporary_stands": True}
        yield from of_milestone(Reached(milestone, JUNE, **against, still_open=[deficiency()]))


def inspections() -> Iterator[str]:
    now, starts = datetime(2026, 5, 1, 9, tzinfo=UTC), datetime(2026, 6, 1, 9, tzinfo=UTC)
    for state in FOLLOWS:
        for happening in InspectionState:
            if happening is not InspectionState.ASKED:
                yield InspectionNow(state, starts, starts).why_not(happening, now)


def area_holds() -> Iterator[str]:
    accepted = AcceptanceFacts(True, MAY, unchanged=True)
    for withdrawal in (
        WithdrawalFacts(MAY, "zqplumber zqdrilled"),
        WithdrawalFacts(MAY, "zqplumber", answered=True, inspect_again=True),
    ):
        area = AreaFacts(MAY, None, True, [(Standing.PASSED, 1)], acceptance=accepted)
        for hold in holds(AreaFacts(**{**_fields(area), "withdrawals": [withdrawal]})):
            yield hold.says
            yield hold.says.rstrip(".")
            yield hold.lifted_by


def _fields(area: AreaFacts) -> dict:
    return {name: getattr(area, name) for name in AreaFacts.__slots__}


@pytest.mark.parametrize("language", MANNERS)
@pytest.mark.parametrize("told", [answers, milestones, inspections, area_holds])
def test_every_sentence_is_said_whole(language: str, told) -> None:
    known, left = phrases(language), []
    sentences = {sentence for sentence in told() if sentence}
    assert len(sentences) >= 6
    for sentence in sentences:
        said = known.said(sentence)
        strange = [part for part in said.unknown if re.search("[A-Za-z]{2}", TYPED.sub("", part))]
        if strange or said.text == sentence:
            left.append(f"{sentence}: {strange}")
        assert sorted(TYPED.findall(said.text)) == sorted(TYPED.findall(sentence))
    assert not left, "\n".join(left)


@pytest.mark.parametrize("language", MANNERS)
def test_what_a_fault_does_names_every_area(language: str) -> None:
    said = phrases(language).say(withdrawal_says(["zqloft zqwing", "zqhall"]))
    assert "This withdraws" not in said
    assert TYPED.findall(said) == ["zqloft", "zqwing", "zqhall"]
    assert " and " not in said

"""One word, one meaning: what figures say and what people say are two sets of words."""

import pytest

from config.messages.saying import said
from inspections.checker.finding import Verdict
from inspections.models import Acceptance, Answer, Happening
from inspections.standing.authority_messages import (
    CANADA,
    ground_shown,
    happening_shown,
    result_shown,
)
from inspections.standing.holds import Seen, item_standing
from inspections.standing.shown_messages import line_shown, seen_shown, verdict_shown


def test_verdicts_and_looks_share_no_word() -> None:
    verdicts = {said(verdict_shown(verdict)) for verdict in Verdict}
    looks = {said(seen_shown(seen)) for seen in Seen}
    assert verdicts == {"OK on plan", "Not to code", "Verify", "Info needed"}
    assert looks == {"OK", "Fix", "Can't see", "N/A"}


@pytest.mark.parametrize(
    ("verdict", "seen", "words"),
    [
        (Verdict.OK, None, "OK on plan"),
        (Verdict.OK, Seen.OK, "OK on site"),
        (Verdict.OK, Seen.FIX, "Fix"),
        (Verdict.OK, Seen.CANT_SEE, "Can't see"),
        (Verdict.OK, Seen.NA, "N/A"),
        (Verdict.NOT_TO_CODE, None, "Not to code"),
        (Verdict.NOT_TO_CODE, Seen.FIX, "Not to code"),
        (Verdict.VERIFY, None, "Verify"),
        (Verdict.VERIFY, Seen.OK, "OK on site"),
        (Verdict.VERIFY, Seen.FIX, "Fix"),
        (Verdict.VERIFY, Seen.CANT_SEE, "Can't see"),
        (Verdict.VERIFY, Seen.NA, "N/A"),
        (Verdict.NOT_TO_CODE, Seen.NA, "Not to code"),
        (Verdict.INFO_NEEDED, Seen.NA, "Info needed"),
        (Verdict.INFO_NEEDED, None, "Info needed"),
        (Verdict.INFO_NEEDED, Seen.OK, "Info needed"),
    ],
)
def test_a_line_says_where_its_word_comes_from(verdict, seen, words) -> None:
    for workmanship in (False, True):
        standing = item_standing(verdict, seen, workmanship)
        assert said(line_shown(standing, verdict, seen)) == words


def test_results_are_called_as_each_country_calls_them() -> None:
    names = [said(result_shown(each, "US")) for each in Answer.values]
    assert names == ["Approved", "Partial", "Correction notice"]
    names = [said(result_shown(each, CANADA)) for each in Answer.values]
    assert names == ["Accepted", "Deficiencies", "Defect notice"]


def test_whatever_is_stored_of_an_authority_has_words() -> None:
    for happening in Happening.values:
        assert said(happening_shown(happening))
    for basis in Acceptance.Basis.values:
        assert said(ground_shown(basis))

"""The words of every case, against those that were kept."""

import pytest

from tests.checker import told
from tests.checker.build import cases

KEPT = {path.stem: path.read_text("utf-8") for path in sorted(told.FOLDER.glob("*.txt"))}


@pytest.mark.parametrize("rule", KEPT)
def test_the_words_are_those_that_were_kept(rule: str) -> None:
    text = dict(told.texts(rule))[rule]
    assert text.splitlines() == KEPT[rule].splitlines(), "if that is meant: `make told`"


def test_the_words_are_kept_of_each_file_of_cases() -> None:
    assert set(KEPT) == {case.file for case in cases("*")}

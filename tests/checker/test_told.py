"""The words of every case, against those that were kept."""

import pytest

from tests.checker import told

KEPT = {path.stem: path.read_text("utf-8") for path in told.FOLDER.glob("*.txt")}


@pytest.mark.parametrize(("rule", "text"), list(told.texts()), ids=lambda value: value[:40])
def test_the_words_are_those_that_were_kept(rule: str, text: str) -> None:
    kept = KEPT.get(rule, "")
    assert text.splitlines() == kept.splitlines(), f"{rule}: if that is meant, run `make told`"


def test_nothing_is_kept_of_rules_without_cases() -> None:
    assert set(KEPT) == {name for name, _ in told.texts()}

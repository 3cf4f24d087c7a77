"""What is said of moments, days and ages is said in every language."""

import pytest

from config.languages import phrases

pytestmark = pytest.mark.any_database
SAID = (
    "Not checked since 2026-11-28 22:30.",
    "Not checked yet. Nothing of it counts as clear.",
    "Lot 7: Not checked since 2026-11-28 22:30. Nothing of it counts as clear. Whoever runs the "
    "site finds why in its log.",
    "Lot 7: Not checked yet. Do not cover before the site says that it is clear.",
    "Bedroom wing: Not checked since 2026-11-28 22:30. Nothing here may be covered.",
    "The permit is not good before 2026-03-17, its day of issue.",
    "the area is to be checked again",
    "messages and checks that failed",
)
NAMES = ("Lot 7", "Bedroom wing", "America/Edmonton")


@pytest.mark.parametrize("language", ["fr", "es"])
@pytest.mark.parametrize("sentence", SAID)
def test_it_is_said(language: str, sentence: str) -> None:
    said = phrases(language).said(sentence)
    assert said.text != sentence
    assert [part for part in said.unknown if part not in NAMES] == []

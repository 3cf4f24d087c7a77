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
    "issued on: 2030-01-01 is out of range. Give a day from 2000-01-01 to 2026-11-29.",
    "starts at: 2029-02-06 22:30 is out of range. Give a moment from 2025-10-24 23:30 to "
    "2029-02-05 22:30 (America/Edmonton).",
    "to day: 2026-03-17 is before the first day, 2026-03-18.",
    "ends at: give a moment after the window starts.",
    "ends at: the window is longer than 31 days. Give an earlier end.",
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

"""A phrase is said whole or not at all: nothing is taken apart to be translated."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config.languages import say
from config.languages.available import TRANSLATED
from config.languages.phrases import Phrases

pytestmark = pytest.mark.any_database
SINK = Phrases({"a sink": "un évier", "open": "ouvert", "and": "et", "none": ""})


def test_a_phrase_is_said() -> None:
    assert SINK.say("a sink") == "un évier"


def test_space_round_a_phrase_stays() -> None:
    assert SINK.say("  a sink \n") == "  un évier \n"


def test_what_is_not_translated_yet_is_read_in_english() -> None:
    assert SINK.say("none") == "none"


@pytest.mark.parametrize(
    "typed", ["a sink and open", "Open sink", "open, a sink", "a sink: open", "1,234.5 mL", "March"]
)
def test_what_somebody_typed_of_words_that_are_phrases_stays_letter_for_letter(typed: str) -> None:
    assert SINK.say(typed) == typed


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize(
    "typed", ["Water heater and garage", "Lights to be fixed by May", "Rough-in: final, to do", ""]
)
def test_a_text_made_of_words_of_the_catalogue_stays_letter_for_letter(
    typed: str, language: str
) -> None:
    assert say(typed, language) == typed


@given(st.text(max_size=80))
def test_any_text_comes_through_where_nothing_is_known(text: str) -> None:
    phrases = Phrases({"The {box} holds {has}.": "{has} dans {box}"})
    assert phrases.say(text) == text

"""A length is read as a person types it off a tape: exactly, or not at all."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config.languages import reader, say, spoken_to
from config.languages.available import LOCALES, UNITS
from config.messages.lengths import (
    LONGEST_MM,
    MOST_TYPED,
    LengthFault,
    as_typed,
    is_bare,
    read_length,
    readings,
    unread,
    without_unit,
)
from config.messages.measures import INCH
from config.messages.message import Length, Rounding
from config.messages.saying import said
from tests.sure import of_kind

CASES = json.loads((Path(__file__).parent / "lengths.json").read_text("utf-8"))
"""What `static/js/lengths.js` reads and shows alike: `tests/js/typed_lengths.test.js`."""
SIXTEENTH = INCH / 16


@pytest.mark.parametrize(("typed", "language", "units", "mm"), CASES["read"])
def test_a_length_is_read_exactly(typed: str, language: str, units: str, mm: float) -> None:
    assert read_length(typed, language, units == "imperial") == mm


@pytest.mark.parametrize(("typed", "language", "units"), CASES["refused"])
def test_what_is_in_doubt_is_refused(typed: str, language: str, units: str) -> None:
    with pytest.raises(LengthFault):
        read_length(typed, language, units == "imperial")


@pytest.mark.parametrize(("mm", "units", "language", "rounding", "words"), CASES["shown"])
def test_a_length_is_shown_as_a_tape_shows_it(mm, units, language, rounding, words) -> None:
    length = Length(mm, Rounding(rounding))
    assert said(length, reader(language, units == "imperial")) == words


@pytest.mark.parametrize(("typed", "mm", "language", "words"), CASES["as typed"])
def test_a_bare_number_is_shown_with_the_unit_it_was_read_in(typed, mm, language, words) -> None:
    with spoken_to(language):
        shown = as_typed(typed, mm)
        assert (shown if isinstance(shown, str) else say(shown)) == words


def test_a_fault_says_what_was_typed_and_what_would_be_a_length() -> None:
    with pytest.raises(LengthFault) as fault:
        read_length(" about six ", "en", True)
    told = '“about six” cannot be read as a length. Enter a length such as 6 1/4" or 160 mm.'
    assert said(fault.value.text) == told
    with pytest.raises(LengthFault) as fault:
        read_length("400 ft", "en", True)
    told = "“400 ft” is longer than 328 ft 1 in. Check the figure and its unit."
    assert said(fault.value.text) == told
    told = '“6” has no unit. Enter a length with its unit, such as 6 1/4" or 160 mm.'
    assert said(without_unit("6")) == told
    assert len(of_kind(str, unread("x" * 10_000).given["typed"])) == MOST_TYPED


@given(
    mm=st.floats(0, LONGEST_MM - 1),
    language=st.sampled_from(sorted(LOCALES)),
    units=st.sampled_from([name for name, _ in UNITS]),
    rounding=st.sampled_from(Rounding),
)
def test_what_a_page_shows_is_read_as_the_same_length(mm, language, units, rounding) -> None:
    imperial = units == "imperial"
    shown = said(Length(mm, rounding), reader(language, imperial))
    step = SIXTEENTH if imperial else 1.0
    away = read_length(shown, language, not imperial) - mm
    assert abs(away) <= step * (0.5 if rounding is Rounding.NEAREST else 1) + 1e-3, shown


@given(st.integers(0, 300), st.integers(0, 11), st.integers(0, 63), st.booleans())
def test_feet_inches_and_fractions_add_up(feet: int, inches: int, over: int, spaced: bool) -> None:
    space = " " if spaced else ""
    typed = f"{feet}'{space}{inches} {over}/64\""
    assert read_length(typed, "en", False) == ((feet * 12 * 64 + inches * 64 + over) * 254 / 640)


@given(st.text(alphabet="0123456789.,/'\"-″′ mcftinpoesulg½x−\u00a0", max_size=45))
def test_whatever_is_typed_is_a_length_within_bounds_or_refused(typed: str) -> None:
    for language in LOCALES:
        for imperial in (True, False):
            try:
                mm = read_length(typed, language, imperial)
            except LengthFault:
                continue
            assert 0 <= mm <= LONGEST_MM
            assert mm in set(readings(typed))


def test_a_number_alone_has_no_unit() -> None:
    assert is_bare("6")
    assert is_bare("6 1/4")
    assert is_bare("152,5")
    assert not is_bare('6"')
    assert not is_bare("six")

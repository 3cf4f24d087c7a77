"""A message is said in the reader's language and units, and never denies its own verdict."""

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config.languages import measured_in, reader, say
from config.messages.message import (
    Amperes,
    FloorSize,
    Joined,
    Length,
    Listed,
    Mass,
    Message,
    Ohms,
    Percent,
    Ratio,
    Rounding,
    Text,
    VoltAmperes,
    Volume,
    WeekDay,
    message,
    messages,
)
from config.messages.saying import ENGLISH, METRIC, said
from config.messages.stored import from_json, to_json

DEEP = message("test.deep", "Box {box} sits {figure} back; maximum {limit}.")
HOLDS = message("test.holds", "It holds {n} cables.", one="It holds {n} cable.")
LENGTHS = st.floats(0, 20_000, allow_nan=False)


def inches(text: str) -> float:
    """So many inches as a reader of feet and inches reads."""
    total = 0.0
    words = text.replace("-", "").split()
    for number, word in enumerate(words):
        if "/" in word:
            over, under = word.split("/")
            total += int(over) / int(under)
        elif word.isdigit():
            unit = next(each for each in words[number:] if not each[0].isdigit())
            total += int(word) * (12 if unit == "ft" else 1)
    return -total if text.startswith("-") else total


def millimetres(text: str) -> float:
    return float(text.removesuffix(" mm").replace(",", ""))


@pytest.mark.parametrize(
    ("mm", "feet", "metric"),
    [
        (0, "0 in.", "0 mm"),
        (12.7, "1/2 in.", "12.7 mm"),
        (304.8, "1 ft", "305 mm"),
        (317.5, "1 ft 1/2 in.", "318 mm"),
        (1828.8, "6 ft", "1,829 mm"),
        (3810, "12 ft 6 in.", "3,810 mm"),
        (-3.2, "-1/8 in.", "-3.2 mm"),
    ],
)
def test_a_length_is_what_a_tape_shows(mm: float, feet: str, metric: str) -> None:
    assert said(Length(mm)) == feet
    assert said(Length(mm), METRIC) == metric


def test_a_metric_limit_is_shown_in_inches_on_its_safe_side() -> None:
    assert said(Length(6, Rounding.DOWN)) == "3/16 in."
    assert said(Length(1800, Rounding.DOWN)) == "5 ft 10 13/16 in."
    assert said(Length(32, Rounding.UP)) == "1 5/16 in."
    assert said(Length(31.75, Rounding.UP)) == "1 1/4 in.", "what the code prints stays"


@given(figure=LENGTHS, limit=LENGTHS)
def test_a_rounded_figure_never_denies_its_verdict(figure: float, limit: float) -> None:
    for holds, way in ((figure <= limit, Rounding.DOWN), (figure >= limit, Rounding.UP)):
        other = {Rounding.DOWN: Rounding.UP, Rounding.UP: Rounding.DOWN}[way]
        shown = Length(figure, way if holds else other)
        against = Length(limit, way)
        for read, as_said in ((inches, ENGLISH), (millimetres, METRIC)):
            a, b = read(said(shown, as_said)), read(said(against, as_said))
            if way is Rounding.DOWN:
                assert (a <= b) == holds or abs(figure - limit) < 0.01
            else:
                assert (a >= b) == holds or abs(figure - limit) < 0.01


def test_other_quantities_are_in_the_units_of_the_reader() -> None:
    assert said(Volume(229.418896)) == "14 cu. in."
    assert said(Volume(229.418896), METRIC) == "229.4 mL"
    assert said(Mass(22.6796185)) == "50 lb"
    assert said(Mass(22.6796185), METRIC) == "22.7 kg"
    assert said(FloorSize(11.1484)) == "120 sq ft"
    assert said(FloorSize(11.1484), METRIC) == "11.1 m²"
    assert said(Percent(33.333)) == "33.3%"
    assert said(Percent(33.333), reader("fr", True)) == "33,3\u00a0%"
    assert said(Ratio(1.82, Rounding.DOWN)) == "1.8"
    assert said(Amperes(15)) == "15 A"
    assert said(Ohms(25.001, Rounding.UP)) == "25.1 Ω"
    assert said(VoltAmperes(7500)) == "7,500 VA"


def test_working_is_in_the_units_of_the_code_whoever_reads() -> None:
    text = Text("test.deep", {"box": "R2", "figure": Length(9), "limit": Length(6)}, "metric")
    assert said(text, ENGLISH) == "Box R2 sits 9 mm back; maximum 6 mm."


def test_the_full_stop_of_a_unit_ends_the_sentence_too() -> None:
    assert said(DEEP(box="R2", figure=Length(9.525), limit=Length(6.35))).endswith("1/4 in.")


def test_one_is_not_said_as_many() -> None:
    assert said(HOLDS(n=1)) == "It holds 1 cable."
    assert said(HOLDS(n=2)) == "It holds 2 cables."


@pytest.mark.parametrize("language", ["en", "fr", "es"])
def test_what_somebody_typed_is_letter_for_letter_what_it_is(language: str) -> None:
    for typed in ("Water heater and garage", "Lights to be mended by May", "3/4 in.", "{box}"):
        text = Listed((typed, DEEP(box=typed, figure=1, limit=2)))
        assert said(text, reader(language, imperial=True)).count(typed) == 2


def test_units_are_those_of_whoever_reads() -> None:
    assert say(Length(3810)) == "12 ft 6 in."
    with measured_in(imperial=False):
        assert say({"mm": 3810}) == "3,810 mm"
    assert say(Length(3810), "fr") == "12 pi 6 po"
    with measured_in(imperial=False):
        assert say(Volume(1234.5), "fr") == "1\u00a0234,5 mL"


def test_a_hole_too_many_or_too_few_is_refused() -> None:
    with pytest.raises(TypeError, match="takes"):
        DEEP(box="R2", figure=1)
    with pytest.raises(TypeError, match="takes"):
        DEEP(box="R2", figure=1, limit=2, place="here")


def test_an_id_is_registered_once_and_is_no_sentence() -> None:
    with pytest.raises(ValueError, match="two messages"):
        message("test.deep", "again")
    with pytest.raises(ValueError, match="no id"):
        message("Box is deep", "again")


def test_a_message_of_another_version_says_its_id() -> None:
    assert said(Text("gone.since", {})) == "gone.since"


def values() -> st.SearchStrategy:
    figures = st.floats(-1e6, 1e6, allow_nan=False)
    quantities = st.one_of(
        *(st.builds(kind, figures) for kind in (Amperes, VoltAmperes)),
        *(
            st.builds(kind, figures, st.sampled_from(Rounding))
            for kind in (Length, Volume, Mass, FloorSize, Ohms, Percent, Ratio)
        ),
    )
    plain = st.one_of(
        st.text(max_size=20), st.integers(), figures, quantities,
        st.dates(), st.datetimes(timezones=st.just(UTC)),
    )  # fmt: skip
    return st.recursive(
        plain,
        lambda inner: st.one_of(
            st.builds(
                Listed, st.lists(inner, max_size=3).map(tuple), st.sampled_from(["and", "or"])
            ),
            st.builds(Joined, st.lists(inner, max_size=3).map(tuple)),
            st.builds(
                Text,
                st.just("test.deep"),
                st.dictionaries(st.sampled_from("abc"), inner, max_size=3),
            ),
        ),
        max_leaves=8,
    )


@given(values())
def test_a_value_comes_back_as_it_was_kept(value: object) -> None:
    assert from_json(to_json(value)) == value  # type: ignore[arg-type]


def test_a_day_and_a_moment_are_kept_apart() -> None:
    assert from_json(to_json(date(2026, 5, 1))) == date(2026, 5, 1)
    moment = datetime(2026, 5, 1, 8, tzinfo=UTC)
    assert from_json(to_json(moment)) == moment


def test_what_is_no_value_is_refused() -> None:
    with pytest.raises(ValueError, match="no value"):
        from_json({"what": "else"})
    with pytest.raises(TypeError, match="fills no hole"):
        to_json(object())  # type: ignore[arg-type]


def test_every_message_has_its_holes_in_both_forms() -> None:
    for each in messages().values():
        assert isinstance(each, Message)
        assert each.text.strip() == each.text, each.id
        if each.one:
            assert each.count in each.holes, each.id


def test_days_and_hours_are_told_as_each_language_writes_them() -> None:
    monday, nine = WeekDay(date(2026, 3, 9)), time(9)
    french = reader("fr", True)
    assert (said(monday), said(nine)) == ("Mon, Mar 9", "9:00\u202fAM")
    assert (said(monday, french), said(nine, french)) == ("lun. 9 mars", "09 h 00")
    assert [from_json(to_json(each)) for each in (monday, nine)] == [monday, nine]

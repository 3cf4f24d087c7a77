"""A message said to a reader: in his language and units, as that language writes. Pure."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from functools import lru_cache
from typing import Literal

from babel.dates import format_date, format_skeleton, format_time, get_datetime_format
from babel.lists import format_list

from .measures import (
    MEASURES,
    UnitWords,
    decimal,
    ohms_words,
    percent_words,
    ratio_words,
    to_point_at,
)
from .message import (
    HOLE,
    Amperes,
    Joined,
    Length,
    Listed,
    Message,
    Ohms,
    Percent,
    Ratio,
    Text,
    Value,
    VoltAmperes,
    WeekDay,
    messages,
)

LISTS: dict[str, Literal["standard", "or"]] = {"and": "standard", "or": "or"}

Translate = Callable[[Message, int | None], str]
"""The phrase of a message in the reader's language, its plural by the count."""


def as_registered(message: Message, count: int | None) -> str:
    """The phrase as it was registered."""
    if message.one and count == 1:
        return message.one
    return message.text


@dataclass(frozen=True, slots=True)
class Reader:
    """Whoever reads: language and region for figures, units, and what phrases are there."""

    locale: str = "en_US"
    imperial: bool = True
    units: UnitWords = field(default_factory=UnitWords)
    translate: Translate = as_registered
    pointing: bool = False
    """Whether what is said tells where something is, and no more."""


ENGLISH = Reader()
METRIC = Reader(locale="en_CA", imperial=False)


def said(value: Value, reader: Reader = ENGLISH) -> str:
    """A value in words. What somebody typed stays letter for letter what it is."""
    match value:
        case str():
            return value
        case Text():
            return _text(value, reader)
        case Listed():
            every = [said(each, reader) for each in value.of]
            return format_list(every, style=LISTS[value.by], locale=reader.locale)
        case Joined():
            return value.between.join(said(each, reader) for each in value.of)
        case _:
            return _figure(value, reader)


def _figure(value: Value, reader: Reader) -> str:
    """A number, a quantity or a time."""
    match value:
        case int() | float():
            return decimal(value, reader.locale)
        case Amperes():
            return f"{decimal(value.a, reader.locale)} A"
        case VoltAmperes():
            return f"{decimal(value.va, reader.locale)} VA"
        case Ohms():
            return ohms_words(value, reader.locale)
        case Percent():
            return percent_words(value, reader.locale)
        case Ratio():
            return ratio_words(value, reader.locale)
        case datetime() | date() | time() | WeekDay():
            return _when(value, reader)
        case _:
            if reader.pointing and reader.imperial and isinstance(value, Length):
                value = to_point_at(value)
            words = MEASURES[type(value)]
            return words(value, reader.imperial, reader.locale, reader.units)


def _when(value: datetime | date | time | WeekDay, reader: Reader) -> str:
    """A moment, a day or an hour."""
    match value:
        case datetime():
            return _moment(value, reader)
        case date():
            return format_date(value, "medium", locale=reader.locale)
        case time():
            return format_time(value, "short", locale=reader.locale)
        case WeekDay():
            return format_skeleton("MMMEd", value.day, locale=reader.locale)


def _moment(moment: datetime, reader: Reader) -> str:
    """A day and its time to the minute, by the clock that the moment is told in."""
    joined = str(get_datetime_format("medium", locale=reader.locale))
    day = format_date(moment, "medium", locale=reader.locale)
    # The time zone is that of the moment: babel would tell it in UTC.
    time = format_time(moment, "short", tzinfo=moment.tzinfo, locale=reader.locale)
    return joined.replace("{1}", day).replace("{0}", time).replace("'", "")


def _text(text: Text, reader: Reader) -> str:
    """A message with its holes filled; one that this program does not know says its id."""
    message = messages().get(text.id)
    if message is None:
        return text.id
    if text.code_units:
        reader = replace(reader, imperial=text.code_units == "imperial")
    if message.pointing:
        reader = replace(reader, pointing=True)
    count = None
    if message.count:
        count = _whole(text.given[message.count])
    phrase = reader.translate(message, count)
    holes = _holes(phrase)
    if not holes:
        return phrase
    filled = []
    end = 0
    for name, start, after in holes:
        filled.append(phrase[end:start])
        filled.append(said(text.given[name], reader))
        end = after
        if filled[-1].endswith(".") and phrase[end : end + 1] == ".":
            end += 1  # the full stop of "in." ends the sentence too
    filled.append(phrase[end:])
    return "".join(filled)


@lru_cache(maxsize=30_000)
def _holes(phrase: str) -> tuple[tuple[str, int, int], ...]:
    """Each hole of a phrase: its name, where it begins and where it ends."""
    return tuple((hole[1], *hole.span()) for hole in HOLE.finditer(phrase))


def _whole(value: Value) -> int:
    """The number that chooses a plural; a part of one takes the plural of two."""
    if isinstance(value, int | float) and value == int(value):
        return int(value)
    return 2

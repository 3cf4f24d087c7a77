"""How the program's own sentences are said in each language that Studbay speaks."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from functools import cache, lru_cache, partial

from django.utils.functional import Promise, lazy
from django.utils.translation import get_language, npgettext, override, pgettext

from config.messages.measures import UnitWords
from config.messages.message import MESSAGES, Message
from config.messages.saying import Reader, said
from config.messages.stored import from_json, is_stored_text

from .available import LOCALES, TRANSLATED, UNIT_WORDS
from .catalogue import FOLDER, read_phrases
from .own_words import Typed
from .phrases import Phrases


@cache
def phrases(language: str) -> Phrases:
    """The phrases of a language other than English."""
    return Phrases(read_phrases(FOLDER / language / "LC_MESSAGES" / "django.mo"))


def say(text: object, language: str | None = None) -> str:
    """What the program says, in the language given or that of the reader, in the reader's units.

    A message by its id, as a value or as it is stored; or a whole phrase by its English. A text
    that is neither is said as it is: what a person typed, and what was recorded of old.
    """
    if isinstance(text, Typed):
        return text
    if isinstance(text, Promise):
        return str(text)
    if is_stored_text(text):
        text = from_json(text)
    if isinstance(text, MESSAGES):
        return said(text, reader(_chosen(language), imperial_units()))
    if text is None:
        words = ""
    else:
        words = str(text)
    chosen = _chosen(language)
    if chosen in TRANSLATED:
        return phrases(chosen).say(words)
    return words


said_later = lazy(say, str)
"""What the program says, as text of Django's that is said when somebody reads it."""


def say_when(moment: date) -> str:
    """A day or a moment as the reader's language writes it."""
    return said(moment, reader(_chosen(), imperial_units()))


def speaking() -> Callable[[object], str]:
    """`say` for many sentences that the program made: the language is looked up once."""
    return partial(say, language=_chosen())


@cache
def reader(language: str, imperial: bool) -> Reader:
    """Whoever reads that language, in feet and inches or in metric units."""
    units = UNIT_WORDS.get(language, UnitWords())
    return Reader(LOCALES[language], imperial, units, partial(_phrase, language))


def _phrase(language: str, message: Message, count: int | None) -> str:
    """The phrase of a message by the catalogue; English where it is not translated yet."""
    if message.one:
        return _plural(language, message, 2 if count is None else count)
    return _single(language, message)


@cache
def _single(language: str, message: Message) -> str:
    with override(language):
        return pgettext(message.id, message.text)


@lru_cache(maxsize=10_000)
def _plural(language: str, message: Message, count: int) -> str:
    with override(language):
        return npgettext(message.id, message.one, message.text, count)


_IMPERIAL: ContextVar[bool] = ContextVar("imperial", default=True)


def imperial_units() -> bool:
    """Whether whoever reads now measures in feet and inches."""
    return _IMPERIAL.get()


@contextmanager
def measured_in(imperial: bool) -> Iterator[None]:
    """Whatever is said within is said in these units."""
    token = _IMPERIAL.set(imperial)
    try:
        yield
    finally:
        _IMPERIAL.reset(token)


@contextmanager
def spoken_to(language: str, units: str = "") -> Iterator[None]:
    """Whatever is said within is said in that language and those units.

    In English when none is given, and in feet and inches.
    """
    with measured_in(units != "metric"):
        if (language or "en") == get_language():
            yield
            return
        with override(language or "en"):
            yield


def _chosen(language: str | None = None) -> str:
    return (language or get_language() or "en").split("-")[0]

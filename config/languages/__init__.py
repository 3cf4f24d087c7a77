"""How the program's own sentences are said in each language that Studbay speaks."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache

from django.utils.translation import get_language, override

from .available import JOINERS, MANNERS
from .catalogue import FOLDER, read_phrases
from .own_words import Typed
from .phrases import Phrases


@cache
def phrases(language: str) -> Phrases:
    """The phrases of a language other than English."""
    found = read_phrases(FOLDER / language / "LC_MESSAGES" / "django.mo")
    return Phrases(found, MANNERS[language], JOINERS[language])


def say(text: object, language: str | None = None) -> str:
    """A sentence that the program made, in the language given or that of the reader."""
    if isinstance(text, Typed):
        return text
    if text is None:
        words = ""
    else:
        words = str(text)
    chosen = _chosen(language)
    if chosen in MANNERS:
        return phrases(chosen).say(words)
    return words


def speaking() -> Callable[[str], str]:
    """`say` for many sentences that the program made: the language is looked up once."""
    chosen = _chosen()
    if chosen in MANNERS:
        return phrases(chosen).say
    return str


@contextmanager
def spoken_to(language: str) -> Iterator[None]:
    """Whatever is said within is said in that language; in English when none is given."""
    if (language or "en") == get_language():
        yield
        return
    with override(language or "en"):
        yield


def _chosen(language: str | None = None) -> str:
    return (language or get_language() or "en").split("-")[0]

"""One term of the trade for one thing, in every message of a language."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from config.languages.available import TRANSLATED
from config.languages.catalogue import FOLDER, read_catalogue

pytestmark = pytest.mark.any_database
GLOSSARY: dict[str, dict[str, Any]] = tomllib.loads(
    (Path(__file__).parents[2] / "config" / "languages" / "glossary.toml").read_text("utf-8")
)
SIGNS = ("DO NOT COVER", "OK TO COVER")
"""What is read from a ladder: on signs, in mails and on paper it is the same words."""


def phrases(language: str) -> Iterator[tuple[str, str, str]]:
    """The id, the English and the translation of every message, and of phrases without an id."""
    for each in read_catalogue(FOLDER / language / "LC_MESSAGES" / "django.po"):
        pair = (each.id, each.string)
        english, said = (
            " ".join(part) if isinstance(part, tuple | list) else str(part) for part in pair
        )
        if english:
            yield each.context or "", english, said


def test_each_term_is_given_in_every_language_with_its_source() -> None:
    for term, entry in GLOSSARY.items():
        assert entry["source"], term
        assert all(entry[language] for language in TRANSLATED), term


@pytest.mark.parametrize("language", TRANSLATED)
def test_no_message_uses_a_word_that_the_glossary_avoids(language: str) -> None:
    avoided = []
    for entry in GLOSSARY.values():
        avoided += entry.get(f"avoid_{language}", ())
    shape = re.compile(rf"\b({'|'.join(map(re.escape, avoided))})", re.IGNORECASE)
    for about, english, said in phrases(language):
        assert not shape.search(said), (about, english, said)


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_sign_is_in_the_same_words_wherever_it_is_read(language: str) -> None:
    found = 0
    for about, english, said in phrases(language):
        for sign in SIGNS:
            if sign in english:
                found += 1
                assert GLOSSARY[sign][language] in said, (about, english, said)
    assert found > 5

"""Phrases of a catalogue that nothing says any more, so that translators are not asked for them."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from inspect import cleandoc
from pathlib import Path

from babel.messages.catalog import Catalog

from config.environment import ROOT

from .phrases import HOLE
from .sources import schema_words, script_words, template_words

PACKAGES = ("api", "config", "inspections", "jobs", "notifications", "pages")
LETTER = re.compile("[^\\W\\d_]")


def unsaid(catalogue: Catalog) -> Iterator[str]:
    """Phrases without a context that no template, script, house file or line of code says.

    Messages have a context, their id, and are looked for by `untranslated` in the other direction.
    """
    marked = set()
    for _, words, context in (*template_words(), *script_words(), *schema_words()):
        if context is None:
            marked.add(words)
    for phrase in catalogue:
        english = phrase.id
        if not isinstance(english, str):
            english = english[0]
        if english and not phrase.context and english not in marked and not _in_code(english):
            yield english


def _in_code(english: str) -> bool:
    """Whether every piece of a phrase between its holes stands in a text of the code."""
    for piece in HOLE.split(english)[::2]:
        bare = _bare(piece)
        if LETTER.search(bare) and bare not in texts_of_code():
            return False
    return True


@cache
def texts_of_code() -> str:
    """Every text in the code and in its data, one a line, as `_bare` leaves it."""
    texts: list[str] = []
    for package in PACKAGES:
        for path in sorted((ROOT / package).rglob("*.py")):
            if "migrations" not in path.parts:
                texts.extend(_texts(path))
        for path in sorted((ROOT / package).rglob("*.toml")):
            texts.append(_bare(path.read_text("utf-8")))
    return "\n".join(texts)


def _texts(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield _bare(cleandoc(node.value))


def _bare(text: str) -> str:
    """A text without breaks of lines, spaces at its ends and capitals."""
    return " ".join(text.split()).lower()

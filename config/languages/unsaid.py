"""Phrases of a catalogue that nothing says any more, so that translators are not asked for them."""

import ast
import tomllib
from collections.abc import Iterator
from functools import cache
from inspect import cleandoc
from typing import Any

from babel.messages.catalog import Catalog

from config.environment import ROOT

from .phrases import HOLE
from .sources import program_messages, schema_words, script_words, template_words

PACKAGES = ("api", "audit", "config", "inspections", "jobs", "notifications", "pages")


def unsaid(catalogue: Catalog) -> Iterator[str]:
    """Phrases without a context that no template, script, house file or line of code says.

    A phrase with a hole is said by templates and scripts alone, and one that a message has by its
    id needs no second translation. Messages have a context, their id, and are looked for by
    `untranslated` in the other direction.
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
    """Whether a phrase is a whole text of the code, and not the English of a message."""
    if HOLE.search(english) or english in _messages():
        return False
    return _bare(english) in texts_of_code()


@cache
def _messages() -> frozenset[str]:
    return frozenset(each.text for each in program_messages())


@cache
def texts_of_code() -> frozenset[str]:
    """Every text in the code and in its data and every name of a field, as `_bare` leaves it."""
    texts: set[str] = set()
    for package in PACKAGES:
        for path in sorted((ROOT / package).rglob("*.py")):
            if "migrations" not in path.parts:
                for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                    texts.update(map(_bare, _texts(node)))
        for path in sorted((ROOT / package).rglob("*.toml")):
            texts.update(map(_bare, _values(tomllib.loads(path.read_text("utf-8")))))
    return frozenset(texts)


def _texts(node: ast.AST) -> Iterator[str]:
    """A text with its paragraphs, as the page of a rule has them; a name as a label has it."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
        yield from cleandoc(node.value).split("\n\n")
    for name in _names(node):
        label = name.replace("_", " ")
        yield from (name, label)
        if _labels_itself(node):
            yield label[:1].upper() + label[1:]


def _labels_itself(node: ast.AST) -> bool:
    """Whether it sets a field of a form, without a label of its own."""
    if not isinstance(node, ast.Assign) or not isinstance(node.value, ast.Call):
        return False
    made = ast.unparse(node.value.func)
    labelled = any(each.arg == "label" for each in node.value.keywords)
    return made.endswith("Field") and not made.startswith("models.") and not labelled


def _names(node: ast.AST) -> Iterator[str]:
    """The names of keywords, and of what a class holds: fields of forms and of the record."""
    if isinstance(node, ast.keyword) and node.arg:
        yield node.arg
    if isinstance(node, ast.AnnAssign | ast.Assign):
        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
        for target in targets:
            if isinstance(target, ast.Name):
                yield target.id


def _values(held: Any) -> Iterator[str]:
    """Every name and every text of a file of data."""
    if isinstance(held, dict):
        yield from held
        held = list(held.values())
    if isinstance(held, list):
        for each in held:
            yield from _values(each)
    elif isinstance(held, str):
        yield held


def _bare(text: str) -> str:
    """A text without breaks of lines and spaces at its ends."""
    return " ".join(text.split())

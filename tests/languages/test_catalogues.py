"""What the program says is said whole in every language: each sentence of a case is tried."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog

from config.environment import ROOT
from config.languages import phrases
from config.languages.__main__ import main, untranslated
from config.languages.available import TRANSLATED
from config.languages.catalogue import FOLDER, read_catalogue
from config.languages.phrases import HOLE
from config.languages.sources import program_messages
from config.languages.unsaid import PACKAGES, unsaid
from inspections.checker.finding import rules
from pages.office.rulebooks import paragraphs

pytestmark = pytest.mark.any_database


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_message_of_the_program_is_said(language: str) -> None:
    """Blocks a release: until then what is not translated is read in English."""
    path = FOLDER / language / "LC_MESSAGES" / "django.po"
    missing = list(untranslated(path, read_catalogue(path)))
    assert not missing, "\n".join(missing)
    assert len(list(program_messages())) > 1_000


def test_every_message_of_the_code_is_among_those_of_the_program() -> None:
    """One whose module nothing lists is neither translated for sure nor known from the start."""
    known = {each.id for each in program_messages()}
    for package in PACKAGES:
        for path in sorted((ROOT / package).rglob("*.py")):
            unlisted = set(message_ids(path)) - known
            assert not unlisted, f"{path} says {unlisted}; list it in config/languages/sources.py"


def message_ids(path: Path) -> Iterator[str]:
    """The ids of the messages that a module registers."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "message":
            for first in node.args[:1]:
                if isinstance(first, ast.Constant):
                    yield str(first.value)


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_rule_is_explained(language: str) -> None:
    known = phrases(language)
    for rule in rules().values():
        for text in (rule.title, rule.topic, rule.stage, *paragraphs(rule.doc)):
            assert text in known.exact, f"{rule.id}: {text}"


@pytest.mark.parametrize("language", TRANSLATED)
def test_numbers_are_the_same_in_every_language(language: str) -> None:
    """A figure mistyped in a translation would be a danger on site. None and one may be words."""
    for english, said in phrases(language).exact.items():
        wanted, got = figures(english), figures(said)
        assert not got - wanted, (english, said)
        assert set(wanted - got) <= {"0", "1"}, (english, said)


def figures(text: str) -> Counter[str]:
    """The figures of a phrase, however it sets decimals and thousands apart."""
    bare = re.sub(r"\b(ft|in|m|mm)[23]\b", "", HOLE.sub("", text))
    bare = re.sub(r"(?<=\d)[\u00a0,.](?=\d)", "", bare)
    return Counter(re.findall(r"\d+", bare))


def test_the_catalogues_are_whole(monkeypatch, capsys) -> None:
    monkeypatch.setattr("sys.argv", ["languages", "--check"])
    assert main() == 0, capsys.readouterr().out


@pytest.mark.parametrize(
    "phrase",
    [
        "{n} notices",  # a phrase with a hole is a message, and said by its id
        "What inspectors",  # a part of a text is no text
        "Rough-in checklist",  # a message says it by its id
        "nothing of ours says this",
    ],
)
def test_a_phrase_that_nothing_says_is_named(phrase: str) -> None:
    assert list(unsaid(holding(phrase))) == [phrase]


@pytest.mark.parametrize(
    "phrase",
    [
        "Back to the job",  # a template
        "{n} to verify",  # a script
        "No breaker is larger than the smallest copper conductor of its circuit allows.",  # a rule
        "copper; aluminum 4 AWG",  # a limit of a rulebook
        "declared by",  # a field of the record, in words
    ],
)
def test_a_phrase_that_something_says_stays(phrase: str) -> None:
    assert not list(unsaid(holding(phrase)))


def holding(phrase: str) -> Catalog:
    """A catalogue of one phrase."""
    catalogue = Catalog("fr")
    catalogue.add(phrase, "phrase")
    return catalogue

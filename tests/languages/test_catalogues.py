"""What the program says is said whole in every language: each sentence of a case is tried."""

import re
from collections import Counter

import pytest

from config.languages import phrases
from config.languages.__main__ import main, untranslated
from config.languages.available import TRANSLATED
from config.languages.catalogue import FOLDER, read_catalogue
from config.languages.phrases import HOLE
from config.languages.sources import program_messages
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

"""What the program says is said whole in every language: each sentence of a case is tried."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from config.languages import phrases
from config.languages.__main__ import main
from config.languages.available import MANNERS
from config.languages.phrases import HOLE
from inspections.checker.finding import rules
from pages.office.rulebooks import paragraphs

pytestmark = pytest.mark.any_database
TOLD = Path(__file__).parents[1] / "checker" / "told"
NAMES = re.compile(
    r"\b(OV|Top floor|Main floor|Iron centre|zz|no-such-box|Room|Hall|[a-z]{1,4}\d*|[A-Z]\w?\d*)\b"
)
"""Names of the houses in the cases."""


def told() -> Iterator[str]:
    """Every sentence that a rule says in a case, without where it is."""
    for path in sorted(TOLD.glob("*.txt")):
        for line in path.read_text("utf-8").splitlines():
            if line.startswith(("  - ", "  > ")):
                yield line[4:]
            elif line.startswith("  ") and not line.startswith("  at "):
                says, _, figures = line[2:].removesuffix("]").rpartition(" [")
                yield from (says or figures, *(figures.split(" / ") if says else ()))


@pytest.mark.parametrize("language", MANNERS)
def test_every_sentence_of_every_case_is_said(language: str) -> None:
    known, left, sentences = phrases(language), [], set(told())
    assert len(sentences) > 4_000
    for sentence in sentences:
        for part in known.said(sentence).unknown:
            if re.search(r"[A-Za-z]{2}", NAMES.sub("", part)):
                left.append(f"{sentence}: {part}")
    assert not left, "\n".join(left)


@pytest.mark.parametrize("language", MANNERS)
def test_every_rule_is_explained(language: str) -> None:
    known = phrases(language)
    for rule in rules().values():
        for text in (rule.title, rule.topic, rule.stage, *paragraphs(rule.doc)):
            assert text in known.exact, f"{rule.id}: {text}"


@pytest.mark.parametrize("language", MANNERS)
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

"""No word, language, unit or order is part of what an answer belongs to."""

import json
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config.languages import reader
from config.messages import message as registry
from config.messages.saying import said
from config.messages.stored import from_json, is_stored_text
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.facts import facts_json
from inspections.checker.finding import Finding
from inspections.checker.keeping.stored_finding import SAID, stored_finding
from inspections.checker.load import load_house
from tests.checker.drawn_houses import drawn_house
from tests.checker.pinned import changed
from tests.checker.test_fuzz import checked
from tests.lengths import examples

READERS = [reader(code, imperial) for code in ("en", "fr", "es") for imperial in (True, False)]
Prints = dict[str, tuple[str, object]]


def prints(found: list[Finding]) -> Prints:
    """Each finding's fingerprint and facts, by its key."""
    return {each.key: (each.fingerprint, facts_json(each.facts)) for each in found}


def test_the_fingerprints_of_the_examples_are_pinned() -> None:
    assert not changed(), "\n".join(changed())


@pytest.fixture
def other_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every message with the words of another one that has the same holes."""
    by_holes: dict[frozenset[str], list[str]] = {}
    for each in registry.messages().values():
        by_holes.setdefault(each.holes, []).append(each.id)
    shuffled = {}
    for ids in by_holes.values():
        others = list(ids)
        Random(7).shuffle(others)
        for one, other in zip(ids, others, strict=True):
            words = registry.messages()[other]
            own = registry.messages()[one]
            shuffled[one] = replace(own, text=words.text, one=words.one, count=words.count)
    monkeypatch.setattr(registry, "_MESSAGES", shuffled)


@examples(20, 2000)
@given(st.integers(0, 2**32), st.sampled_from(["cec-2021", "nec-2023"]))
def test_words_languages_and_units_are_no_part_of_a_fingerprint(seed: int, book: str) -> None:
    data = drawn_house(seed)
    was = prints(checked(data, book))
    for read in READERS:
        found = checked(data, book)
        for each in found:
            words = each.words
            said(words.says, read)
            said(each.spot.text, read)
        assert prints(found) == was


def test_other_words_change_no_fingerprint_and_old_rows_are_read_by_them(other_words: None) -> None:
    for seed in range(5):
        for book in ("cec-2021", "nec-2023"):
            house = load_house(json.dumps(drawn_house(seed)).encode())
            for each in check(house, load_rulebook(book)):
                kept = stored_finding(each)
                assert kept["fingerprint"] == each.fingerprint
                for name in SAID:
                    if is_stored_text(kept[name]):
                        assert said(from_json(kept[name]))


def test_what_is_worked_out_once_is_of_that_finding_alone() -> None:
    found = checked(drawn_house(7), "nec-2023")
    first = found[0]
    before = first.fingerprint
    other = replace(first, subject="elsewhere")
    assert other.fingerprint != before
    assert replace(other, subject=first.subject) == first
    assert replace(other, subject=first.subject).fingerprint == first.fingerprint == before

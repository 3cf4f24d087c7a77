"""The whole check: rules found by themselves, silence made visible, nothing of a framework."""

import subprocess
import sys
from pkgutil import iter_modules

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check, silent_rules
from inspections.checker.finding import rules
from inspections.checker.finding import rules as registered
from inspections.checker.load import load_house
from inspections.checker.rulebook import Rulebook, rulebook_ids
from tests.checker.build import house
from tests.conftest import EXAMPLES


def test_every_file_in_rules_is_a_rule_with_its_name() -> None:
    from inspections.checker.rules import __path__

    files = {module.name.replace("_", "-") for module in iter_modules(__path__)}
    assert files == set(registered())


def test_every_rule_says_what_it_asks() -> None:
    for rule in rules().values():
        assert rule.title
        assert rule.topic
        assert rule.stage in ("rough-in", "finish")
        assert len(rule.doc) > 60


def test_a_rule_without_a_limit_is_silent_and_says_so() -> None:
    plain = load_rulebook("nec-2023")
    quiet = Rulebook("x", "NEC", "x", "x", dict(list(plain.limits.items())[:0]))
    assert {rule.id for rule in silent_rules(quiet)} == set(rules())
    raw = (EXAMPLES / "quillet-planted.json").read_bytes()
    assert check(load_house(raw), quiet) == []
    assert "outlets-per-circuit" in {rule.id for rule in silent_rules(plain)}
    silent = [{rule.id for rule in silent_rules(load_rulebook(book))} for book in rulebook_ids()]
    assert set.intersection(*silent) == set()


@pytest.mark.parametrize("book", rulebook_ids())
@pytest.mark.parametrize("silenced", rules())
def test_one_silent_rule_leaves_the_others_as_they_were(book, silenced) -> None:
    plain = load_rulebook(book)
    limits = {n: limit for n, limit in plain.limits.items() if not n.startswith(f"{silenced}.")}
    quiet = Rulebook(plain.id, plain.code, plain.edition, plain.title, limits)
    made = load_house((EXAMPLES / "quillet-planted.json").read_bytes())
    silent = {rule.id for rule in silent_rules(plain)} | {silenced}
    assert {rule.id for rule in silent_rules(quiet)} == silent
    expected = [f.key for f in check(made, plain) if f.rule.id != silenced]
    assert [f.key for f in check(made, quiet)] == expected


def test_the_same_house_gives_the_same_findings_in_the_same_order() -> None:
    raw = (EXAMPLES / "quillet-planted.json").read_bytes()
    book = load_rulebook("cec-2021")
    first, second = (
        [(f.key, f.verdict, f.fingerprint, f.words) for f in check(load_house(raw), book)]
        for _ in range(2)
    )
    assert first == second


def test_an_empty_house_lacks_what_a_house_needs_and_nothing_else() -> None:
    book = load_rulebook("nec-2023")
    keys = {"smoke-alarms:storey/s", "lighting-outlets:r", "wall-receptacles:r"}
    assert keys <= {finding.key for finding in check(house(), book)}
    empty = house(panels=[], room={"kind": "storage"})
    assert [finding.key for finding in check(empty, book)] == ["smoke-alarms:storey/s"]


def test_the_checker_brings_in_no_framework_and_no_clock() -> None:
    program = (
        "import sys, inspections.checker\n"
        "bad = {'django', 'celery', 'redis', 'reportlab', 'rest_framework'} & set(sys.modules)\n"
        "assert not bad, bad\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr

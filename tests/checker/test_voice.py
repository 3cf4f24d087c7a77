"""How findings read: short, each fact once, in one unit, and by the words that the trade uses."""

import re
from collections.abc import Iterator
from functools import cache
from statistics import median

from config.messages.message import Joined, Text, Value, messages
from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.asking.visual import RoomFacts
from inspections.checker.finding import Finding, Verdict, rules
from tests.checker.build import cases, findings

READERS = {"imperial": ENGLISH, "metric": METRIC}
AT_MOST = 14
"""Words of a failing finding's sentence, by the median."""
FEWEST = 4
"""Words that may not come twice in a line, one after another."""
NOT_OURS = re.compile(
    r"\basked\b|nobody recorded|\bat most\b|\bat least\b|\bLook at\b|\bmend|\bcleared?\b"
    r"|\bstands\b",
    re.IGNORECASE,
)
"""What the voice says otherwise: required, not recorded yet, maximum, minimum, verify, fix."""
MANY_OF_ONE = re.compile(
    r"(?<![\d./,-])1 (cables|boxes|conductors|holes|alarms|items|receptacles|circuits)\b"
)
METRIC_UNITS = re.compile(r"\d (mm|mL|kg|m²)\b")
FEET_AND_INCHES = re.compile(r"\d (ft|in\.|cu\. in\.|lb|sq ft)")


@cache
def every() -> list[Finding]:
    """Every finding of every case that the case expects, by its newest rulebook of each code."""
    found = []
    for case in cases("*"):
        for code in case.codes:
            book = max(name for name in case.rulebooks if name.startswith(code.lower()))
            by_key = findings(case.loaded, book, case.amended(book))
            found += [by_key[key] for key in case.expect if key in by_key]
    return found


def sayings(finding: Finding) -> Iterator[Value]:
    """What is read at once: the sentence, or each check of a room by itself."""
    says = finding.words.says
    if isinstance(finding.facts, RoomFacts) and isinstance(says, Text) and says.id == "verify.here":
        checks = says.given["checks"]
        yield from checks.of if isinstance(checks, Joined) else (checks,)
    else:
        yield says


def lines() -> Iterator[tuple[Finding, str, str]]:
    """Each finding with its units and its line: title, sentence and what to do."""
    for finding in every():
        for units, reader in READERS.items():
            for says in sayings(finding):
                parts = (finding.rule.named, says, finding.words.remedy)
                yield finding, units, " | ".join(said(part, reader) for part in parts)


def runs_twice(line: str) -> list[str]:
    """Runs of words that come more than once in a line; figures alone are none."""
    words = re.findall(r"[\w'/.²-]+", line.lower())
    runs = [tuple(words[n : n + FEWEST]) for n in range(len(words) - FEWEST + 1)]
    return [
        " ".join(run)
        for run in set(runs)
        if runs.count(run) > 1 and not all(re.search(r"\d|^in\.$|^ft$", word) for word in run)
    ]


def test_no_line_says_a_thing_twice() -> None:
    twice = {}
    for finding, units, line in lines():
        if finding.verdict is not Verdict.OK and (again := runs_twice(line)):
            twice[f"{finding.key} {units}"] = (again, line)
    assert not twice, "\n".join(map(str, list(twice.items())[:10]))


def test_a_failing_finding_is_said_in_few_words() -> None:
    lengths = []
    for finding in every():
        if finding.verdict is Verdict.NOT_TO_CODE:
            lengths.append(len(said(finding.words.says).split()))
    assert median(lengths) <= AT_MOST
    assert len(lengths) > 300


def test_each_line_is_in_the_units_of_its_reader_alone() -> None:
    for finding, units, line in lines():
        other = METRIC_UNITS if units == "imperial" else FEET_AND_INCHES
        assert not other.search(line), (finding.key, line)


def test_the_working_is_in_the_units_of_the_code() -> None:
    for finding in every():
        other = METRIC_UNITS if finding.code == "NEC" else FEET_AND_INCHES
        for reader in READERS.values():
            for step in finding.words.working:
                assert not other.search(said(step, reader)), (finding.key, said(step, reader))


def test_no_word_of_before_is_left() -> None:
    for each in messages().values():
        if each.id.partition(".")[0] in rules():
            for text in (each.text, each.one):
                assert not NOT_OURS.search(text), (each.id, text)


def test_a_sentence_ends_once_and_has_no_hole_left() -> None:
    for finding, _, line in lines():
        assert not re.search(r"[{}]|\.\.|\bNone\b|\bnan\b|\binf\b|  ", line), (finding.key, line)
        says = said(finding.words.says)
        assert says[-1] in ".)", (finding.key, says)
        assert says[0] == says[0].upper(), (finding.key, says)
        assert bool(finding.words.remedy) == (finding.verdict is not Verdict.OK), finding.key


def test_one_is_said_as_one() -> None:
    for finding, _, line in lines():
        assert not MANY_OF_ONE.search(line), (finding.key, line)

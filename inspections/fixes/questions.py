"""Missing facts as questions: what is missing of many parts alike is asked once."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from config.messages.message import Text, message
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.fixes import Fix, FixKind
from inspections.checker.house.nouns import noun
from inspections.checker.house.paths import Path

from .fact_words import fact_key, fact_name
from .fixes import HouseFacts, fixes_of

DEPTH = "device_depth_mm"
HOW_DEEP = message("question.depth", "How deep is the {device} you use?")
ALIKE = message("question.alike", "{fact}, and {n} more like it")


@dataclass(frozen=True, slots=True)
class Asked:
    """One part of which the fact is missing, and where its own answer is written."""

    part: str
    path: Path
    key: str
    """Of the finding that lacks it."""


@dataclass(frozen=True, slots=True)
class Question:
    """A fact that is missing, once for all the parts that lack it."""

    path: Path
    """Where the answer for all is written, of one product that the house uses; of the first."""
    kind: FixKind
    least: float | None
    most: float | None
    choices: tuple[Any, ...]
    to: Any
    asked: tuple[Asked, ...]
    shared: bool
    """Whether one value in the house stands for all of them: the depth of its switches."""

    @property
    def says(self) -> Text:
        """The question."""
        if self.shared:
            return HOW_DEEP(device=noun(DeviceKind(str(self.path[1]))))
        if len(self.asked) == 1:
            return fact_name(self.path)
        return ALIKE(fact=fact_name(self.path), n=len(self.asked) - 1)


def questions_of(house: House | HouseFacts, findings: Iterable[Finding]) -> tuple[Question, ...]:
    """What is missing for findings that need info, each fact once, in the order of the findings.

    Parts of which the same is missing, held to the same limit, are one question.
    """
    facts = house if isinstance(house, HouseFacts) else HouseFacts(house)
    alike: dict[tuple[Any, ...], list[tuple[Fix, Asked]]] = {}
    for finding in findings:
        if finding.verdict is not Verdict.INFO_NEEDED:
            continue
        for fix in fixes_of(facts, finding):
            if fix.now is not None:
                continue
            asked = _asked(facts.house, finding, fix)
            alike.setdefault(_what(fix), []).extend((fix, each) for each in asked)
    questions = []
    for group in alike.values():
        questions.append(_question(group))
    return tuple(questions)


def _what(fix: Fix) -> tuple[Any, ...]:
    """By what two missing facts are alike."""
    if fix.path[0] == DEPTH:
        return fix.path
    return (fact_key(fix.path), fix.kind, fix.least, fix.most, fix.choices, str(fix.to))


def _asked(house: House, finding: Finding, fix: Fix) -> list[Asked]:
    """The parts that the fact is missing of: devices of a kind in their box, or the one part."""
    if fix.path[0] != DEPTH:
        return [Asked(str(fix.path[1]), fix.path, finding.key)]
    box = next(each for each in house.boxes if each.id == finding.subject)
    found = []
    for place, device in enumerate(box.devices):
        if device.kind.value == fix.path[1] and device.depth_mm is None:
            own: Path = ("boxes", box.id, "devices", place, "depth_mm")
            found.append(Asked(box.id, own, finding.key))
    return found


def _question(group: list[tuple[Fix, Asked]]) -> Question:
    fix = group[0][0]
    asked: dict[Path, Asked] = {}
    for _, each in group:
        asked.setdefault(each.path, each)
    shared = fix.path[0] == DEPTH
    limits = (fix.least, fix.most, fix.choices, fix.to)
    return Question(fix.path, fix.kind, *limits, tuple(asked.values()), shared)


def answer_to(
    question: Question, value: Any, others: Mapping[str, Any] | None = None
) -> list[tuple[Path, Any]]:
    """What is written where by one answer; `others` are the parts that are not so, with theirs.

    A part whose own value is None stays missing where each has its own; where one value stands
    for all it takes that of all.
    """
    others = others or {}
    written: dict[Path, Any] = {}
    if question.shared:
        written[question.path] = value
    for each in question.asked:
        own = value
        if each.part in others:
            own = others[each.part]
        elif question.shared:
            continue
        if own is not None:
            written[each.path] = own
    return list(written.items())

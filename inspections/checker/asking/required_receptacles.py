"""Receptacles that a place is to be provided with: how many it has, and how many are asked."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple

from inspections.checker.asking.fixtures import height_of
from inspections.checker.asking.line_sentences import left_out_words
from inspections.checker.asking.receptacles import Counts, count_at_most, for_general_use
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.house.boxes import Box, OnCeiling
from inspections.checker.site import holds_receptacle
from inspections.checker.words import length, listed, plural


class Provided(NamedTuple):
    """The receptacles of a place that count, those that may, and those that do not."""

    has: list[str]
    maybe: list[tuple[str, str]]
    """What nobody recorded, in words, and the box."""
    out: list[tuple[str, str, float | None]]

    def verdict(self, least: int, most: int) -> Verdict:
        """Whether they are enough, when from `least` to `most` are asked."""
        if len(self.has) >= most:
            return Verdict.MEETS
        if len(self.has) + len(self.maybe) < least:
            return Verdict.SHORT
        return Verdict.UNKNOWN


def provided(
    boxes: Iterable[Box],
    highest: float | None = None,
    serves: Callable[[Box], bool] = for_general_use,
    doubt: Callable[[Box], str | None] | None = None,
) -> Provided:
    """Sort receptacles by whether they count: for use there, and not higher than `highest`.

    `doubt` names in words a fact that is missing about a box's place, if one is.
    """
    found = Provided([], [], [])
    for box in boxes:
        if not holds_receptacle(box):
            continue
        counts, reason = _counts(box, highest, serves)
        missing = None
        if doubt:
            missing = doubt(box)
        if counts is False and reason:
            found.out.append((box.id, *reason))
        elif counts is None or missing:
            found.maybe.append((missing or f"how high box {box.id} stands", box.id))
        else:
            found.has.append(box.id)
    return found


def _counts(box: Box, highest: float | None, serves: Callable[[Box], bool]) -> Counts:
    if not serves(box):
        return False, ("general", None)
    if highest is not None and isinstance(box.place, OnCeiling):
        return False, ("ceiling", None)
    return count_at_most(height_of(box), highest, "high")


def count_data(
    found: Provided, asked: tuple[int, int], highest: float | None = None, *missing: str
) -> dict[str, Any]:
    """What a finding keeps of it; `missing` names further facts that nobody recorded."""
    facts = []
    for fact, _ in found.maybe:
        facts.append(fact)
    return {
        "has": found.has,
        "out": found.out,
        "missing": list(dict.fromkeys([*missing, *facts])),
        "asked": asked,
        "highest": highest,
    }


def tell_count(
    finding: Finding, place: str, remedy: str, notes: Sequence[str] = ()
) -> FindingWords:
    """A place, what it has and what is asked of it."""
    data, imperial = finding.facts, finding.imperial
    least, most = data["asked"]
    has = plural(len(data["has"]), "receptacle")
    asked = f"at least {plural(least, 'receptacle')}"
    missing = listed(data["missing"])
    says = {
        Verdict.MEETS: f"This {place} has {has}; {asked} asked.",
        Verdict.SHORT: f"This {place} has {has} that count; {asked} asked.",
        Verdict.LOOK: f"This {place} has {has}; {asked} asked.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    working = [f"{place}: {', '.join(data['has']) or 'none'}; {has} of {asked}"]
    if most > least:
        working.append(f"up to {plural(most, 'receptacle')} asked, by what is not recorded")
    if data["highest"] is not None:
        working.append(f"counted up to {length(data['highest'], imperial)} high")
    working += left_out_words(data["out"], imperial)
    for fact in data["missing"]:
        working.append(f"not recorded: {fact}")
    remedies = {Verdict.SHORT: remedy, Verdict.LOOK: remedy}
    remedies[Verdict.UNKNOWN] = f"Record {missing}."
    return FindingWords(says, has, asked, (*working, *notes), remedies.get(finding.verdict, ""))

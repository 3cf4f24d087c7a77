"""Islands and peninsulas in words: receptacles there, and how many are required."""

from collections.abc import Iterator

from config.messages.message import FloorSize, Length, Rounding, Value, message
from inspections.checker.asking.islands import IslandFacts
from inspections.checker.asking.line_sentences import left_out_lines, missing_lines, missing_words
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import RECORD
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.house.nouns import noun

HAS = message(
    "island.has",
    "This {kind} has {n} receptacles; {limit} required.",
    one="This {kind} has {n} receptacle; {limit} required.",
)
NONE = message("island.none", "No receptacle serves this {kind}; {limit} required.")
ENOUGH = message(
    "island.enough",
    "This {kind} has {n} receptacles, enough for any size.",
    one="This {kind} has {n} receptacle, enough for any size.",
)
NO_END = message(
    "island.outer-end", "No receptacle within {limit} of the outer end of this peninsula."
)
LEFT_READY = message("island.left-ready", "This {kind} has a wired outlet left for a receptacle.")
SIZE = message("island.missing.size", "the length and depth of this {kind}")
LENGTH = message("island.missing.length", "the length of this {kind}")
DEPTH = message("island.missing.depth", "the depth of this {kind}")
PROVISION = message("island.missing.provision", "whether a wired outlet is left for a receptacle")
ADD = message("island.add", "Add a receptacle that serves it.")
ADD_AT_END = message("island.add-at-end", "Add or move one there.")
SIDES = message("island.sides", "Top: {length} by {depth}.")
AREA = message(
    "island.area", "Area {area}: 1 for the first {first}, 1 more for each {more} or part beyond."
)
REQUIRED = message("island.required", "{n} required.")
BY_SIZE = message("island.by-size", "How many are required depends on its size.")


def tell_island(finding: Finding) -> FindingWords:
    """How many receptacles serve it against how many are required."""
    facts: IslandFacts = finding.facts
    kind, has, least = noun(facts.kind), facts.has, facts.least
    limit: Value = ""
    if facts.least == facts.most:
        limit = least
    working = tuple(_working(finding))
    if finding.verdict is Verdict.INFO_NEEDED:
        says = parts_not_recorded(_missing(facts))
        return FindingWords(says, has, limit, working, RECORD())
    if finding.verdict is Verdict.NOT_TO_CODE and has >= least and facts.outer_end_mm is not None:
        limit = Length(facts.outer_end_mm, Rounding.DOWN)
        says = NO_END(limit=limit)
        return FindingWords(says, "", limit, working, ADD_AT_END())
    if finding.verdict is Verdict.NOT_TO_CODE:
        says = HAS(kind=kind, n=has, limit=least) if has else NONE(kind=kind, limit=least)
        return FindingWords(says, has, least, working, ADD())
    says = HAS(kind=kind, n=has, limit=least)
    if has < least or (facts.provision and not has):
        says = LEFT_READY(kind=kind)
    elif facts.least != facts.most:
        says = ENOUGH(kind=kind, n=has)
    return FindingWords(says, has, limit, working)


def _missing(facts: IslandFacts) -> list[Value]:
    said = _sizes(facts)
    said += missing_words(facts.missing)
    if facts.provision is None:
        said.append(PROVISION())
    return said


def _sizes(facts: IslandFacts) -> list[Value]:
    kind = noun(facts.kind)
    if facts.length_mm is None and facts.depth_mm is None:
        return [SIZE(kind=kind)]
    if facts.length_mm is None:
        return [LENGTH(kind=kind)]
    if facts.depth_mm is None:
        return [DEPTH(kind=kind)]
    return []


def _working(finding: Finding) -> Iterator[Value]:
    facts: IslandFacts = finding.facts
    if facts.length_mm is not None and facts.depth_mm is not None:
        yield SIDES(length=Length(facts.length_mm), depth=Length(facts.depth_mm))
    if facts.area_m2 is not None and facts.first_m2 is not None and facts.more_m2 is not None:
        yield AREA(
            area=FloorSize(facts.area_m2, Rounding.UP),
            first=FloorSize(facts.first_m2),
            more=FloorSize(facts.more_m2),
        )
    if facts.least == facts.most:
        yield REQUIRED(n=facts.least)
    else:
        yield BY_SIZE()
    yield from left_out_lines(facts.left_out)
    yield from missing_lines(_missing(facts), finding.verdict is Verdict.INFO_NEEDED)

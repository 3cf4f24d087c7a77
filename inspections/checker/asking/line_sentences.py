"""Findings about lines in words: spaces, receptacles along them, and what is out of reach."""

from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.words import length, listed

NOT_COUNTED = {
    "general": "it is not for general use",
    "high": "it stands {} up",
    "ceiling": "it is in the ceiling",
    "grade": "nobody reaches it from the ground",
    "floor": "it stands {} from the wall",
    "above": "it stands {} above the top",
    "below": "it stands {} below the top",
    "face-up": "it faces up in the top",
    "overhang": "the top reaches {} out over it",
}
MISSING = {
    "high": "how high box {} stands",
    "floor": "how far box {} stands from the wall",
    "above": "how box {} stands to the top of the counter",
    "overhang": "how far the top reaches out over box {}",
    "along": "where along the counter box {} stands",
    "top": "how high counter {} is",
    "swing": "which way the door in wall {} opens",
    "sill": "whether the window in wall {} reaches the floor",
    "behind": "how deep the counter is behind the {}",
}


def missing_words(missing: list[tuple[str, str]]) -> list[str]:
    """What nobody recorded, once each."""
    words = {}
    for what, where in missing:
        words[MISSING[what].format(where)] = True
    return list(words)


def left_out_words(left_out: list[tuple[str, str, float | None]], imperial: bool) -> list[str]:
    """Each receptacle that does not count, and why."""
    sentences: list[str] = []
    for box, why, measure in left_out:
        sentences.append(
            f"receptacle {box} does not count: "
            + NOT_COUNTED[why].format(length(measure or 0, imperial))
        )
    return sentences


def tell_line(finding: Finding, what: str, remedy: str) -> FindingWords:
    """A space along a line against the reach that the code asks for."""
    data, imperial = finding.facts, finding.imperial
    reach = length(data["reach_mm"], imperial)
    gaps = []
    for gap in data["uncovered"]:
        gaps.append(_gap(gap, imperial))
    missing = missing_words(data["missing"])
    says = {
        Verdict.MEETS: f"No point of this {what} is more than {reach} from a receptacle.",
        Verdict.SHORT: f"Out of reach on this {what}: {listed(gaps)}.",
        Verdict.UNKNOWN: f"Nobody recorded {listed(missing)}.",
    }[finding.verdict]
    widths = []
    for a, b, *_ in data["uncovered"]:
        widths.append(b - a)
    worst = max(widths, default=0)
    out_of_reach = "out of reach"
    if finding.verdict is Verdict.UNKNOWN:
        out_of_reach = "may be out of reach"
    working = [*_working(finding, what)]
    for gap in gaps:
        working.append(f"{out_of_reach}: {gap}")
    return FindingWords(
        says,
        f"{length(worst, imperial)} {out_of_reach}" if worst else "all within reach",
        f"within {reach}",
        tuple(working),
        {Verdict.SHORT: remedy, Verdict.UNKNOWN: f"Record {listed(missing)}."}.get(
            finding.verdict, ""
        ),
    )


def _working(finding: Finding, what: str) -> list[str]:
    data, imperial = finding.facts, finding.imperial
    lines = [f"{what}: {length(data['space_mm'], imperial)} long, no break"]
    for box, at, _ in data["at"]:
        lines.append(f"receptacle {box} at {length(at, imperial)} along it")
    lines += left_out_words(data["out"], imperial)
    either_way = "; the same either way"
    if finding.verdict is Verdict.UNKNOWN:
        either_way = ""
    for fact in missing_words(data["missing"]):
        lines.append(f"not recorded: {fact}{either_way}")
    return lines


def _gap(gap: tuple[float, float, str, float], imperial: bool) -> str:
    start, end, wall, at = gap
    width = length(end - start, imperial)
    return f"{width} along wall {wall}, beginning {length(at, imperial)} from its left end"

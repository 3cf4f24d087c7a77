"""Load cases for `make cases`: one outcome each, in the form that its runner prints."""

from collections.abc import Iterator

from tests.checker.run_cases import Outcome
from tests.loads.build import Case, cases, run_case

SECTIONS = {
    "nec-standard": "Article 220 Part III",
    "nec-optional": "220.82",
    "manufactured": "24 CFR 3280.811",
    "cec": "8-200",
    "nec": "Article 220 Part III",
    "conductors": "conductor tables",
    "lines": "Annex D1(b)",
    "lighting-circuits": "210.11",
    "drop": "voltage drop",
    "derate": "ampacity",
    "breakers": "240.4(D), 14-104",
    "demand": "branch circuits",
    "positions": "8-108",
    "floor-area": "floor area",
    "temporary": "29 CFR 1926.404, 405; 76-016",
    "hookup": "construction hookup",
    "quebec": "Quebec 8-200 1) c)",
}
"""Where a calculation stands, by its way or kind, unless the case says."""


def outcome(case: Case) -> Outcome:
    """A case by every rulebook that it names, with what its source says against itself."""
    codes = sorted({book.partition("-")[0].upper() for book in case["rulebooks"]})
    return Outcome(
        codes,
        section(case),
        case["known"],
        f"{case['id']} {case['title']}",
        case["source"],
        case.get("contradicts", ""),
        run_case(case),
    )


def section(case: Case) -> str:
    """The section that the case is about."""
    if "section" in case:
        return str(case["section"])
    by = case.get("way") or case.get("kind") or case["file"]
    return SECTIONS.get(by, "loads")


def outcomes() -> Iterator[Outcome]:
    """What comes of each load case."""
    return map(outcome, cases())

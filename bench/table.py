"""Every comparison in one table: `python -m bench.table [quick] [--results FILE]`.

In whole, every missed goal is a fault. `quick`, which runs wherever the tests do, holds each row to
what it reached: to its goal, or where `misses.toml` says that the goal is not reached, to what that
file says; both with room for a machine that others use.
"""

import json
import os
import platform
import re
import sys
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from bench.__main__ import Row

LIBRARIES = ("django", "djangorestframework", "celery", "reportlab", "pydantic", "ortools")


MISSES = Path(__file__).with_name("misses.toml")
ROOM = 1.5
"""So many times its goal a row may be before quick calls it a fault."""


@dataclass(frozen=True, slots=True)
class Miss:
    """A goal that is known not to be reached: the row, its largest ratio, why."""

    row: str
    at_most: float
    because: str


def misses(path: Path = MISSES) -> list[Miss]:
    """Those that are known. Raises TypeError when one lacks something."""
    found: list[Miss] = []
    for each in tomllib.loads(path.read_text())["miss"]:
        found.append(Miss(**each))
    return found


def of_any_size(what: str) -> str:
    """The name of a row without the sizes in it, which differ between quick and whole."""
    return re.sub(r"\d[\d,]*", "N", what)


def table_faults(rows: Sequence[Row], known: Sequence[Miss]) -> tuple[list[str], list[str]]:
    """What is wrong with a quick table; what else is to be said of it."""
    by_row = {}
    for each in known:
        by_row[each.row] = each
    faults, notes, met = [], [], set()
    for what, ours, floor, goal in rows:
        ratio, miss = ours / floor, by_row.get(of_any_size(what))
        if miss is None:
            if ratio > goal * ROOM:
                faults.append(f"{what}: {ratio:.2f}, goal {goal}: it was reached before")
            elif ratio > goal:
                notes.append(f"{what}: {ratio:.2f} is over its goal, within the room for noise")
            continue
        met.add(miss.row)
        if ratio > miss.at_most:
            faults.append(f"{what}: {ratio:.2f}, and was known to miss by {miss.at_most} at most")
        elif ratio > goal:
            notes.append(f"{what}: a known miss: {miss.because}")
        else:
            notes.append(f"{what}: reaches its goal here; see whether {MISSES.name} still needs it")
    for row in by_row:
        if row not in met:
            faults.append(f"{MISSES.name}: there is no row {row!r}")
    return faults, notes


def print_table(rows: Sequence[Row], results: Path | None = None) -> int:
    """Print the table, keep it as JSON if asked; 1 when a goal is missed."""
    print(f"{'what: floor':<62}{'ours':>10}{'floor':>10}{'ratio':>8}{'goal':>7}")
    for what, ours, floor, goal in rows:
        mark = "  MISSED"
        if ours / floor <= goal:
            mark = ""
        print(f"{what:<62}{ours:>10,.2f}{floor:>10,.2f}{ours / floor:>8.2f}{goal:>7}{mark}")
    if results:
        kept = []
        for what, ours, floor, goal in rows:
            kept.append(
                {"what": what, "ours": ours, "floor": floor, "ratio": ours / floor, "goal": goal}
            )
        about: dict[str, object] = {}
        for name in LIBRARIES:
            about[name] = version(name)
        about |= {"python": platform.python_version(), "cores": os.cpu_count()}
        about |= {"machine": platform.machine(), "load": round(os.getloadavg()[0], 2)}
        results.parent.mkdir(parents=True, exist_ok=True)
        results.write_text(json.dumps({"rows": kept, "versions": about}, indent=1) + "\n")
    return int(any(ours / floor > goal for _, ours, floor, goal in rows))


def main() -> int:
    """Measure everything, the checker first; `quick` takes fewer rounds, and makes allowances."""
    quick = "quick" in sys.argv
    results = None
    if "--results" in sys.argv:
        results = Path(sys.argv[sys.argv.index("--results") + 1])
    from bench import __main__ as checker
    from bench import notices, office, psplib, sheet, site

    if quick:
        checker.ROUNDS, checker.HOUSES, checker.BATCH_ROUNDS = 15, 100, 1
    rows = [
        *checker.comparisons(),
        psplib.psplib_row(2.0, (30, 60)) if quick else psplib.psplib_row(10.0),
    ]
    with site.surroundings():
        rows += [sheet.sheet_row(), *site.site_comparisons(quick)]
        rows.append(notices.notices_row(50, 5) if quick else notices.notices_row())
        if quick:
            rows += office.page_rows(100, 1_000, 5)
        else:
            rows += office.page_rows()
    missed = print_table(rows, results)
    if not quick:
        return missed
    faults, notes = table_faults(rows, misses())
    print(f"load average {os.getloadavg()[0]:.1f}")
    for each in [*notes, *(f"FAULT: {fault}" for fault in faults)]:
        print(each)
    return int(bool(faults))


if __name__ == "__main__":
    sys.exit(main())

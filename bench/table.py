"""Every comparison in one table: `python -m bench.table [quick] [--results FILE]`."""

import json
import os
import platform
import sys
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path

from bench.__main__ import Row

LIBRARIES = ("django", "djangorestframework", "celery", "reportlab", "pydantic", "ortools")


def told(rows: Sequence[Row], results: Path | None = None) -> int:
    """Print the table, keep it as JSON if asked; 1 when a goal is missed."""
    print(f"{'what: floor':<62}{'ours':>10}{'floor':>10}{'ratio':>8}{'goal':>7}")
    for what, ours, floor, goal in rows:
        mark = "" if ours / floor <= goal else "  MISSED"
        print(f"{what:<62}{ours:>10,.2f}{floor:>10,.2f}{ours / floor:>8.2f}{goal:>7}{mark}")
    if results:
        kept = [
            {"what": what, "ours": ours, "floor": floor, "ratio": ours / floor, "goal": goal}
            for what, ours, floor, goal in rows
        ]
        about = {name: version(name) for name in LIBRARIES}
        about |= {"python": platform.python_version(), "cores": os.cpu_count()}
        results.parent.mkdir(parents=True, exist_ok=True)
        results.write_text(json.dumps({"rows": kept, "versions": about}, indent=1) + "\n")
    return int(any(ours / floor > goal for _, ours, floor, goal in rows))


def main() -> int:
    """Measure everything, the checker first; `quick` takes fewer rounds."""
    quick = "quick" in sys.argv
    results = Path(sys.argv[sys.argv.index("--results") + 1]) if "--results" in sys.argv else None
    from bench import __main__ as checker
    from bench import sheet, site

    if quick:
        checker.ROUNDS, checker.HOUSES, checker.BATCH_ROUNDS = 15, 100, 1
    rows = [*checker.rows(), sheet.row()]
    with site.surroundings():
        return told([*rows, *site.rows(quick)], results)


if __name__ == "__main__":
    sys.exit(main())

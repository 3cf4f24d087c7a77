"""Refuse a day or a moment that is asked of anything but the one clock; `tests.shape` runs it.

The product asks `timezone.now()` and takes the day at the house from that. Tests are told the time
of the run (tests/clocks.py), and take a day from `house_day`: `date.today()` is the day where the
machine stands, and a day of UTC is tomorrow at the house each evening.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

REFUSED = {
    "date.today": "the day where the machine stands",
    "datetime.today": "the day where the machine stands",
    "datetime.now": "not the clock that a test sets",
    "datetime.utcnow": "not the clock that a test sets",
    "time.time": "not the clock that a test sets",
    "timezone.localdate": "the day where the site stands, not the house",
    "timezone.now().date": "the day in UTC: tomorrow at the house each evening",
}
PARTS = {"year", "month", "day"}
FREE = ("bench/", "tests/clocks.py", "tests/clocked/", "tests/test_clocks.py")
"""What measures, and what makes the clock."""


def faults(path: Path, tree: ast.AST) -> Iterator[str]:
    """Each call in a file that asks another clock, or takes a day that is nobody's."""
    if path.as_posix().startswith(FREE):
        return
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        if isinstance(node.func, ast.Attribute) and node.func.attr == "replace":
            of_now = "now()" in ast.unparse(node.func.value)
            if of_now and {each.arg for each in node.keywords} & PARTS:
                yield f"{path}:{node.lineno}: not every year has a 29 February; add a timedelta"
            continue
        called = ast.unparse(node.func)
        for name, why in REFUSED.items():
            if called == name or called.endswith(f".{name}"):
                instead = "tests.clocks.house_day()" if path.parts[0] == "tests" else "today_at"
                yield f"{path}:{node.lineno}: {called}() is {why}; use timezone.now(), or {instead}"

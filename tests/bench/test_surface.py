"""The page of the surface says what was measured, and no more."""

import json
from pathlib import Path

from bench.surface_page import ROWS, surface_markdown

ROOT = Path(__file__).resolve().parents[2]


def test_the_page_is_that_of_the_figures_that_are_kept() -> None:
    figures = json.loads((ROOT / "docs/results/surface.json").read_text())
    assert (ROOT / "docs/surface.md").read_text() == surface_markdown(figures)


def test_what_no_machine_changes_reaches_its_goal() -> None:
    page = json.loads((ROOT / "docs/results/surface.json").read_text())["page"]
    by_time = ("ms", " s")
    for name, _, goal in ROWS:
        if goal is not None and not name.endswith(by_time):
            assert page[name] <= goal, name

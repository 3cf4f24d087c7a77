"""The page of the surface, written from figures: docs/surface.md. No figure is typed into it."""

from typing import Any

ROWS: tuple[tuple[str, str, float | None], ...] = (
    ("screens before anything is opened", "17.4", 3),
    ("HTML, kB", "1,000", 90),
    ("compressed, kB", "", 30),
    ("nodes", "", 2_000),
    ("first contentful paint, s", "", 1.0),
    ("of it until the site answers, s", "", None),
    ("of it from then on, s", "", None),
    ("interaction to next paint, ms", "", 200),
    ("taps from a message to the first failing card", "", 1),
    ("taps from sign-in to the first failing card", "", 2),
    ("taps to any failing item of a named room, most", "", 3),
)
"""What is measured; what it was before the plan came first, where that is known; its goal."""


def surface_markdown(figures: dict[str, Any]) -> str:
    """The whole page as Markdown."""
    parts = [_head(figures), _page(figures["page"]), _touches(figures["page"])]
    return "\n\n".join([*parts, _sheets(figures["sheets"])]) + "\n"


def _head(figures: dict[str, Any]) -> str:
    return f"""# The surface

What a lead meets: the page of a job on a phone, and its papers. Written by `make surface`
(`bench/surface.py`); do not edit. Measured on {figures["machine"]}, load average
{figures["load average"]}, the site in gunicorn on the same machine, in Chromium at 390 x 844 with
the processor slowed four times; medians of {figures["rounds"]} rounds after one that is not
counted. The house is that of the planted defects: 118 boxes, 64 lines not to code. Before is the
page that listed every line, measured by hand; where nothing stands it was not measured."""


def _page(page: dict[str, float]) -> str:
    lines = ["| | before | now | goal |", "| --- | ---: | ---: | ---: |"]
    for name, before, goal in ROWS:
        most = ""
        if goal is not None:
            most = f"{goal:,g}"
        lines.append(f"| {name} | {before} | {_short(page[name])} | {most} |")
    return "## The page of a job\n\n" + "\n".join(lines)


def _touches(page: dict[str, float]) -> str:
    lines = ["| | ms |", "| --- | ---: |"]
    for name, ms in page.items():
        if name.startswith("touch: "):
            lines.append(f"| {name.removeprefix('touch: ').removesuffix(', ms')} | {ms:.0f} |")
    return """## Each touch

From the finger to the next paint, the slowest event of each touch. The browser counts in steps of
8 ms and tells nothing under 16.

""" + "\n".join(lines)


def _sheets(sheets: dict[str, dict[str, int]]) -> str:
    papers = list(next(iter(sheets.values())))
    lines = [f"| house | {' | '.join(papers)} |", "| --- |" + " ---: |" * len(papers)]
    for house, counts in sheets.items():
        lines.append(f"| {house} | {' | '.join(str(counts[each]) for each in papers)} |")
    return """## Sheets of paper

US letter, as a job that was roughed in prints them. Before, the planted house's checklist had 62
sheets, a house of four rooms 16, and the inspector's pack of a house in which all had passed 63.

""" + "\n".join(lines)


def _short(figure: float) -> str:
    if figure == int(figure):
        return f"{figure:,.0f}"
    if figure < 10:
        return f"{figure:.2f}"
    return f"{figure:,.1f}"

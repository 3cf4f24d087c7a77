"""Every figure of every load table is held by a case: change the figure and some case fails."""

import tomllib
from collections.abc import Iterator

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import HERE, KNOWN, Limit, rulebook_ids
from inspections.loads import TABLES
from tests.checker.test_figures_held import written
from tests.loads.build import cases, run_case

ALL = cases()
HELD_BY = {
    "floor-area": {"floor-area"},
    "standard-load": {"load", "lines", "lighting-circuits"},
    "quebec-charging": {"quebec"},
    "service": {"conductors", "load"},
    "conductors": {"conductors", "derate", "breakers", "demand", "drop"},
    "electrode-conductor": {"conductors"},
    "bonding-conductor": {"conductors"},
    "voltage-drop": {"drop"},
    "panel": {"positions"},
    "hookup": {"hookup", "temporary", "demand"},
    "temporary": {"temporary"},
}
"""The kinds of case that read a table; `load` where none are named."""
NOT_AMENDABLE = ("service.copper", "service.aluminum")
"""Tables of names, not of numbers: an overlay cannot set them; their cases name every entry."""


def figures() -> Iterator[tuple[str, str]]:
    """The figures that each load file gives itself, not those it is based on."""
    for book in rulebook_ids():
        path = HERE / "loads" / f"{book}.toml"
        data = tomllib.loads(path.read_text("utf-8")) if path.exists() else {}
        for rule, table in data.items():
            if rule != "sources":
                for name, entry in table.items():
                    if not entry.get("dropped") and f"{rule}.{name}" not in NOT_AMENDABLE:
                        yield book, f"{rule}.{name}"


def otherwise(limit: Limit) -> Iterator[object]:
    """Values near to that of the limit; one of them has to be noticed."""
    value = limit.value
    if isinstance(value, bool):
        yield not value
    elif limit.unit == "AWG":
        yield (
            {key: 6 if each != 6 else 8 for key, each in value.items()}
            if isinstance(value, dict)
            else 14
        )
    elif isinstance(value, dict):
        yield {key: each * 1.3 + 1 for key, each in value.items()}
        yield {key: each * 0.7 for key, each in value.items()}
    else:
        yield from (value * 1.02 if value else 1, value * 0.98)
        if limit.unit in ("circuits", "appliances", "heaters", "positions"):
            yield from (value + 1, value - 1)


@pytest.mark.parametrize(("book", "name"), list(figures()))
def test_a_case_fails_when_the_figure_changes(book: str, name: str) -> None:
    limit, kinds = load_rulebook(book)[name], HELD_BY.get(name.partition(".")[0], {"load"})
    mine = [
        {**case, "rulebooks": [book]}
        for case in ALL
        if book in case["rulebooks"] and case.get("kind", "load") in kinds
    ]
    for value in otherwise(limit):
        overlay = (
            f'[[amend]]\nlimit = "{name}"\nvalue = {written(value)}\n'
            f'unit = "{limit.unit}"\nreason = "to see a case fail"\n'
        )
        if any(run_case(case, overlay) for case in mine):
            return
    pytest.fail(f"no case notices another {name} than {limit.value}")


@pytest.mark.parametrize("book", rulebook_ids())
def test_every_load_limit_says_where_it_stands_and_how_it_is_known(book: str) -> None:
    found = [x for x in load_rulebook(book).limits.values() if x.name.partition(".")[0] in TABLES]
    assert found
    for limit in found:
        assert limit.section
        assert limit.known in KNOWN
        assert bool(limit.source) == (limit.known == "read")
        if isinstance(limit.value, int | float) and not isinstance(limit.value, bool):
            assert limit.unit

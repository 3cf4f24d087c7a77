"""Every figure in every rulebook is held by a case: change the figure and some case fails."""

import tomllib
from collections.abc import Iterator
from functools import cache

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import HERE, Limit, rulebook_ids
from tests.checker.build import Case, cases

LARGER, SMALLER = 1.02, 0.98
COUNTED = (
    *("conductors", "gangs", "braces", "outlets", "circuits", "receptacles"),
    *("spaces", "electrodes", "rods", "terminals", "AWG", "cables", "risers"),
)


@cache
def of_rule(rule: str, book: str) -> list[Case]:
    """The cases that this rulebook runs for a rule."""
    return [case for case in cases(rule) if book in case.rulebooks]


def figures() -> Iterator[tuple[str, str]]:
    """The figures that each rulebook file gives itself, not those it is based on."""
    for book in rulebook_ids():
        data = tomllib.loads((HERE / f"{book}.toml").read_text("utf-8"))
        for rule, table in data.items():
            if rule not in ("rulebook", "sources"):
                for name, entry in table.items():
                    if not entry.get("dropped"):
                        yield book, f"{rule}.{name}"


def otherwise(limit: Limit) -> Iterator[object]:
    """Values that the limit does not have, near to the one it has."""
    value = limit.value
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, list):
        for word in value:
            yield [other for other in value if other != word]
    elif isinstance(value, dict):
        yield {key: each * LARGER + 1 for key, each in value.items()}
    elif limit.unit == "AWG":  # sizes go by twos there
        yield from (value + 2, value - 2)
    elif isinstance(value, int) and (limit.unit in COUNTED or limit.name.endswith("bonding_free")):
        yield from (value + 1, value - 1)
    else:
        yield from (value * LARGER if value else 1, value * SMALLER if value else 1)


def written(value: object) -> str:
    """The value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{ " + ", ".join(f'"{key}" = {each!r}' for key, each in value.items()) + " }"
    if isinstance(value, list):
        return str([str(each) for each in value])
    return repr(value)


@pytest.mark.parametrize(("book", "name"), list(figures()))
def test_a_case_fails_when_the_figure_changes(book: str, name: str) -> None:
    limit, rule = load_rulebook(book)[name], name.partition(".")[0]
    for value in otherwise(limit):
        overlay = (
            f'[[amend]]\nlimit = "{name}"\nvalue = {written(value)}\n'
            f'unit = "{limit.unit}"\nreason = "to see a case fail"\n'
        )
        noticed = any(case.check(book, overlay) for case in of_rule(rule, book))
        assert noticed, f"no case notices {name} = {value}"

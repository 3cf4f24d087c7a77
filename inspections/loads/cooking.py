"""Household cooking appliances by NEC Table 220.55."""

from inspections.checker.rulebook import Rulebook

from .facts import COOKING, Load, LoadFacts
from .ways import LoadLine, added, va

TABLE = "standard-load.cooking_"


def counted_appliances(facts: LoadFacts, book: Rulebook) -> list[Load]:
    """The cooking appliances that the table speaks of: those above its smallest rating."""
    least = book.value(f"{TABLE}from_w")
    loads: list[Load] = []
    for load in facts.of(*COOKING):
        if load.va > least:
            loads.append(load)
    return loads


def cooking_line(facts: LoadFacts, book: Rulebook) -> LoadLine | None:
    """The demand of the cooking appliances, by the columns that give less.

    Small ones may be taken at the shares of columns A and B instead of column C (note 3).
    """
    loads = counted_appliances(facts, book)
    if not loads:
        return None
    best, words = min(_by_size(loads, book), _column_c(loads, book), key=lambda each: each[0])
    limits = []
    for name in _rows_used(words):
        limits.append(book[f"{TABLE}{name}"])
    return LoadLine(
        "cooking", "Cooking appliances", best, words, tuple(limits), step=len(loads) > 1
    )


def _by_size(loads: list[Load], book: Rulebook) -> tuple[float, str]:
    """Each appliance by the column of its size, and the sum of them."""
    small, large = book.value(f"{TABLE}b_from_w"), book.value(f"{TABLE}c_from_w")
    column_a: list[Load] = []
    column_b: list[Load] = []
    column_c: list[Load] = []
    for load in loads:
        if load.va > large:
            column_c.append(load)
        elif load.va < small:
            column_a.append(load)
        else:
            column_b.append(load)
    figures = []
    words = []
    for figure, said in (
        _share(column_a, "a", book),
        _share(column_b, "b", book),
        _column_c(column_c, book),
    ):
        figures.append(figure)
        if said:
            words.append(said)
    return sum(figures), "; ".join(words)


def _rows_used(words: str) -> list[str]:
    """The limits that a working speaks of."""
    used = []
    if "column A" in words:
        used.append("a_pct")
    if "column B" in words:
        used.append("b_pct")
    if "column C" in words:
        used.append("c_va")
    if "over" in words:
        used += ["over_w", "over_pct"]
    return used


def _row(loads: list[Load], table: dict[str, float]) -> float:
    counts = []
    for key in table:
        counts.append(int(key))
    most = max(counts)
    return table[str(min(len(loads), most))]


def _share(loads: list[Load], column: str, book: Rulebook) -> tuple[float, str]:
    if not loads:
        return 0.0, ""
    total = sum(load.va for load in loads)
    share = _row(loads, book.value(f"{TABLE}{column}_pct"))
    words = f"{added(load.va for load in loads)} = {va(total)} at {share:g} % (column "
    return total * share / 100, f"{words}{column.upper()}, {len(loads)})"


def _column_c(loads: list[Load], book: Rulebook) -> tuple[float, str]:
    if not loads:
        return 0.0, ""
    table, over = book.value(f"{TABLE}c_va"), book.value(f"{TABLE}over_w")
    base = _row(loads, table) + 1000.0 * max(0, len(loads) - max(int(key) for key in table))
    average = sum(max(load.va, over) for load in loads) / len(loads)
    steps = int((average - over) / 1000 + 0.5)
    words = f"{len(loads)} by column C: {va(base)}"
    if steps <= 0:
        return base, words
    more = steps * book.value(f"{TABLE}over_pct")
    return base * (1 + more / 100), f"{words} + {more:g} % for {steps} kW over {over / 1000:g} kW"

"""Household cooking appliances by NEC Table 220.55."""

from inspections.checker import Rulebook

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
    small, large = book.value(f"{TABLE}b_from_w"), book.value(f"{TABLE}c_from_w")
    column_a = []
    for load in loads:
        if load.va < small:
            column_a.append(load)
    column_b = []
    for load in loads:
        if small <= load.va <= large:
            column_b.append(load)
    column_c = []
    for load in loads:
        if load.va > large:
            column_c.append(load)
    parts = [
        _share(column_a, "a", book),
        _share(column_b, "b", book),
        _column_c(column_c, book),
    ]
    split = sum(part for part, _ in parts), "; ".join(words for _, words in parts if words)
    whole = _column_c(loads, book)
    best, words = min(split, whole, key=lambda each: each[0])
    names = ("a_pct", "b_pct", "c_va", "over_w", "over_pct")
    used = []
    for name in names:
        if name[0] in "ab" and f"column {name[0].upper()}" in words:
            used.append(name)
    if "column C" in words:
        used += ["c_va"]
    if "over" in words:
        used += ["over_w", "over_pct"]
    limits = []
    for name in used:
        limits.append(book[f"{TABLE}{name}"])
    return LoadLine(
        "cooking", "Cooking appliances", best, words, tuple(limits), step=len(loads) > 1
    )


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

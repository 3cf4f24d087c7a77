"""Household cooking appliances by NEC Table 220.55."""

from dataclasses import dataclass

from config.messages.message import Joined, Percent, Text, VoltAmperes
from inspections.checker.rulebook import Rulebook

from . import line_messages as says
from .facts import COOKING, Load, LoadFacts
from .line_messages import added
from .ways import LoadLine

TABLE = "standard-load.cooking_"


@dataclass(frozen=True, slots=True)
class _Demand:
    """A demand by some of the table's columns."""

    va: float = 0.0
    words: tuple[Text, ...] = ()
    rows: tuple[str, ...] = ()
    """The limits of the table that it rests on."""


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
    best = min(_by_size(loads, book), _column_c(loads, book), key=lambda each: each.va)
    limits = []
    for name in best.rows:
        limits.append(book[f"{TABLE}{name}"])
    working = Joined(best.words, "; ")
    step = len(loads) > 1
    return LoadLine("cooking", says.COOKING(), best.va, working, tuple(limits), step=step)


def _by_size(loads: list[Load], book: Rulebook) -> _Demand:
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
    whole = _Demand()
    for part in (
        _share(column_a, "a", book),
        _share(column_b, "b", book),
        _column_c(column_c, book),
    ):
        whole = _Demand(whole.va + part.va, (*whole.words, *part.words), (*whole.rows, *part.rows))
    return whole


def _row(loads: list[Load], table: dict[str, float]) -> float:
    counts = []
    for key in table:
        counts.append(int(key))
    most = max(counts)
    return table[str(min(len(loads), most))]


def _share(loads: list[Load], column: str, book: Rulebook) -> _Demand:
    if not loads:
        return _Demand()
    total = sum(load.va for load in loads)
    share = _row(loads, book.value(f"{TABLE}{column}_pct"))
    words = says.COOKING_SHARE(
        sum=added(load.va for load in loads),
        total=VoltAmperes(total),
        share=Percent(share),
        column=column.upper(),
        n=len(loads),
    )
    return _Demand(total * share / 100, (words,), (f"{column}_pct",))


def _column_c(loads: list[Load], book: Rulebook) -> _Demand:
    if not loads:
        return _Demand()
    table, over = book.value(f"{TABLE}c_va"), book.value(f"{TABLE}over_w")
    base = _row(loads, table) + 1000.0 * max(0, len(loads) - max(int(key) for key in table))
    average = sum(max(load.va, over) for load in loads) / len(loads)
    steps = int((average - over) / 1000 + 0.5)
    words = says.COOKING_C(n=len(loads), figure=VoltAmperes(base))
    if steps <= 0:
        return _Demand(base, (words,), ("c_va",))
    more = steps * book.value(f"{TABLE}over_pct")
    over_words = says.COOKING_OVER(
        working=words, share=Percent(more), steps=steps, bound=over / 1000
    )
    return _Demand(base * (1 + more / 100), (over_words,), ("c_va", "over_w", "over_pct"))

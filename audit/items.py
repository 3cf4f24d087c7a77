"""Items against what the house and the rules give: `checker.check` is used as it is.

The record keeps a digest of the items whenever they are drawn. Items that are neither what today's
rules give nor what was drawn then were changed by something else. Items that are what was drawn
then, and not what today's rules give, are a house checked by older rules: a state.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

from audit.found import About, Found, difference, state
from audit.record import RecordRead
from audit.tables import JobTables, Row
from inspections import checker

Line = tuple[Any, ...]
"""Rule, subject, area, stage, verdict, fingerprint and the bounds of a measure."""


def compare_items(tables: JobTables, record: RecordRead) -> Iterator[Found]:
    """Where items say other than the house and the rules do."""
    names = {area.code: area.name for area in tables.areas}
    kept = {(item.rule, item.subject): _line(item) for item in tables.items}
    yield from _against_finding(tables)
    if tables.house is None:
        if kept:
            yield difference(About.ITEM, f"{len(kept)} items", "no house is recorded")
        return
    drawn = {line[:2]: line for line in check(tables)}
    other = sorted(key for key in {*kept, *drawn} if kept.get(key) != drawn.get(key))
    if not other:
        return
    if record.drawn in (None, items_digest(list(kept.values()))):
        says = f"{len(other)} items are drawn otherwise by today's rules"
        yield state(About.ITEM, "checked by older rules", says)
        return
    for key in other[:MOST]:
        was, now = kept.get(key), drawn.get(key)
        area = names.get((was or now or [""] * 3)[2], "")
        name = f"{key[0]}:{key[1]}"
        yield difference(About.ITEM, f"{name} {_said(was)}", f"{name} {_said(now)}", area)
    if len(other) > MOST:
        yield difference(About.ITEM, f"{len(other) - MOST} more items", "drawn otherwise")


MOST = 10
"""Items of a job that are named one by one."""


def _said(line: Line | None) -> str:
    return "is not there" if line is None else " ".join(str(part) for part in line[2:])


def _line(item: Row) -> Line:
    columns = (item.rule, item.subject, item.area__code, item.stage, item.verdict)
    return (*columns, item.fingerprint, item.measure_min_mm, item.measure_max_mm)


def items_digest(lines: Sequence[Line]) -> str:
    """What the record keeps of items as they were drawn."""
    return checker.digest(sorted([list(line) for line in lines], key=lambda line: line[:2]))


def _against_finding(tables: JobTables) -> Iterator[Found]:
    """What an item says in its columns, it says in its words too."""
    for item in tables.other_words[:MOST]:
        says = f"{item.rule}:{item.subject} {item.verdict} {item.fingerprint}"
        facts = f"its words say {item.said} {item.rests}"
        yield difference(About.ITEM, says, facts, item.area__name)


def check(tables: JobTables) -> Sequence[Line]:
    """What the rules give of the house as it was last recorded, with the insulation chosen."""
    house, chosen = tables.house, tables.insulation
    insulation = (chosen.kind, chosen.vapour_barrier) if chosen else None
    return _checked(house.house, house.rulebook, house.amendments, insulation)


@lru_cache(maxsize=8)  # the houses of a model are alike
def _checked(
    text: str, rulebook: str, amendments: str, insulation: tuple[str, bool] | None
) -> Sequence[Line]:
    house = checker.load_house(text.encode())
    if insulation is not None:
        kind = checker.InsulationKind(insulation[0])
        chosen = checker.Insulation(kind=kind, vapour_barrier=insulation[1])
        house = house.model_copy(update={"insulation": chosen})
    findings = checker.check(house, checker.load_rulebook(rulebook, amendments))
    return tuple(
        (
            *(each.rule.id, each.subject, each.spot.area, each.rule.stage),
            *(each.verdict.value, each.fingerprint, None, None),
        )
        for each in findings
    )

"""Items against what the house and the rules give: `checker.check` is used as it is.

The record keeps a digest of the items whenever they are drawn. Items that are neither what today's
rules give nor what was drawn then were changed by something else. Items that are what was drawn
then, and not what today's rules give, are a house checked by older rules: a state.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import SimpleNamespace
from typing import Any

from audit.found import About, Found, difference, state
from audit.record import RecordRead
from audit.tables import JobTables, Row
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.facts import digest
from inspections.checker.finding import rules
from inspections.checker.house import Insulation, InsulationKind
from inspections.checker.load import load_house

Key = tuple[str, str]
"""Rule and subject."""

Line = tuple[Any, ...]
"""Rule, subject, area, stage, verdict, fingerprint, and the least and most that a tape may show."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What came of comparing a job's items."""

    found: Sequence[Found]
    otherwise: Mapping[Key, Line] | None = None
    """By what holds are to be drawn instead of by the items; None: by the items as they are."""


def compare_items(tables: JobTables, record: RecordRead) -> Checked:
    """Where items say other than the house and the rules do."""
    found = [*_against_words(tables), *_against_rules(tables)]
    kept = {}
    for item in tables.items:
        kept[(item.rule, item.subject)] = _line(item)
    drawn = _drawn_anew(tables)
    other = []
    for key in sorted({*kept, *drawn}):
        if kept.get(key) != drawn.get(key):
            other.append(key)
    if not other:
        return Checked(found)
    if _of_this(tables, record) and record.drawn in (None, items_digest(list(kept.values()))):
        says = f"{len(other)} items are drawn otherwise by today's rules"
        return Checked([*found, state(About.ITEM, "checked by older rules", says)])
    names = {area.code: area.name for area in tables.areas}
    for key in other[:MOST]:
        found.append(_drawn_otherwise(kept.get(key), drawn.get(key), key, names))
    if len(other) > MOST:
        found.append(difference(About.ITEM, f"{len(other) - MOST} more items", "drawn otherwise"))
    return Checked(found, drawn)


def _drawn_anew(tables: JobTables) -> dict[Key, Line]:
    """The items that the house gives by the rules of today; none without a house."""
    drawn: dict[Key, Line] = {}
    if tables.house:
        for line in check_again_from_rows(tables):
            rule, subject, area, stage, verdict, fingerprint, *limits = line
            answers = tables.carried.get((rule, subject, fingerprint), fingerprint)
            drawn[line[:2]] = (rule, subject, area, stage, verdict, answers, *limits)
    return drawn


def _drawn_otherwise(
    was: Line | None, now: Line | None, key: tuple[str, ...], names: Mapping[str, str]
) -> Found:
    """An item that says other than it would today, with the area that it is in."""
    code = ""
    if line := was or now:
        code = line[2]
    name = f"{key[0]}:{key[1]}"
    area = names.get(code, "")
    return difference(About.ITEM, f"{name} {_said(was)}", f"{name} {_said(now)}", area)


def _of_this(tables: JobTables, record: RecordRead) -> bool:
    """Whether the last drawing that the record tells of is of the house and insulation as now."""
    chosen = tables.insulation
    words = record.insulation
    if chosen:
        words = f"{chosen.kind} {chosen.vapour_barrier}"
    if tables.house is None or record.revision != tables.revisions[-1].number:
        return False
    same_house = record.house == digest(tables.house.house)
    return same_house and record.insulation in (None, words)


def put_right(tables: JobTables, drawn: Mapping[Key, Line]) -> None:
    """Let a job's items be what the house and the rules give, with what was seen of those facts."""
    areas = {}
    for area in tables.areas:
        areas[area.code] = area.id
    kept = {(item.rule, item.subject): item for item in tables.items}
    tables.items, tables.items_by_area = [], {}
    for key in sorted(drawn):
        rule, subject, code, stage, verdict, fingerprint, least, most = drawn[key]
        was = kept.get(key)
        item = SimpleNamespace(
            id=was.id if was else key,
            rule=rule,
            subject=subject,
            stage=stage,
            verdict=verdict,
            fingerprint=fingerprint,
            measure_min_mm=least,
            measure_max_mm=most,
            workmanship=_waits_for_site(was, drawn[key]),
            found_later=bool(was and was.found_later),
        )
        if was is None or was.fingerprint != fingerprint:
            tables.looks[item.id] = []
        tables.items.append(item)
        if item.found_later:
            continue
        tables.items_by_area.setdefault(areas.get(code), []).append(item)


def _waits_for_site(was: Row | None, line: Line) -> bool:
    """Whether hands make what an item is about; of one from before rules said so, once it says
    something else."""
    rule, _, _, _, verdict, fingerprint, *_ = line
    said = rules()[rule].workmanship
    if was is None or (was.verdict, was.fingerprint) != (verdict, fingerprint):
        return said
    return said and bool(was.workmanship)


MOST = 10
"""Items of a job that are named one by one."""


def _said(line: Line | None) -> str:
    if line is None:
        return "is not there"
    words = []
    for part in line[2:]:
        words.append(str(part))
    return " ".join(words)


def _line(item: Row) -> Line:
    columns = (item.rule, item.subject, item.area__code, item.stage, item.verdict)
    return (*columns, item.fingerprint, item.measure_min_mm, item.measure_max_mm)


def items_digest(lines: Sequence[Line]) -> str:
    """What the record keeps of items as they were drawn."""
    lists = []
    for line in lines:
        lists.append(list(line))
    return digest(sorted(lists, key=lambda line: line[:2]))


def _against_words(tables: JobTables) -> Iterator[Found]:
    """What an item says in its columns, it says in its words too."""
    for item in tables.other_words[:MOST]:
        says = f"{item.rule}:{item.subject} {item.verdict} {item.fingerprint}"
        facts = f"its words say {item.said} {item.rests}"
        yield difference(About.ITEM, says, facts, item.area__name)


def _against_rules(tables: JobTables) -> Iterator[Found]:
    """Nothing waits to be confirmed on site that hands do not make."""
    registered = rules()
    for item in tables.items:
        rule = registered.get(item.rule)
        if item.workmanship and rule is not None and not rule.workmanship:
            says = f"{item.rule}:{item.subject} waits to be confirmed on site"
            yield difference(About.ITEM, says, "its rule is not of workmanship", item.area__code)


def check_again_from_rows(tables: JobTables) -> Sequence[Line]:
    """What the rules give of the house as it was last recorded, with the insulation chosen."""
    house, chosen = tables.house, tables.insulation
    insulation = None
    if chosen:
        insulation = (chosen.kind, chosen.vapour_barrier)
    return _checked(house.house, house.rulebook, house.amendments, insulation)


@lru_cache(maxsize=8)  # the houses of a model are alike
def _checked(
    text: str, rulebook: str, amendments: str, insulation: tuple[str, bool] | None
) -> Sequence[Line]:
    house = load_house(text.encode())
    if insulation is not None:
        kind = InsulationKind(insulation[0])
        chosen = Insulation(kind=kind, vapour_barrier=insulation[1])
        house = house.model_copy(update={"insulation": chosen})
    findings = check(house, load_rulebook(rulebook, amendments))
    lines = []
    for each in findings:
        place = (each.rule.id, each.subject, each.spot.area, each.rule.stage)
        limits: list[float | None] = [None, None]
        if each.measure is not None:
            given = (each.measure.min_mm, each.measure.max_mm)
            limits = []
            for mm in given:
                limits.append(mm if mm is None else float(mm))
        lines.append((*place, each.verdict.value, each.fingerprint, *limits))
    return tuple(lines)

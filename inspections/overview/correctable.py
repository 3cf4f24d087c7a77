"""What can be corrected in the house of a job, line by line, as a face sends it to a reader."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from config.languages import say
from config.messages.message import Length, Mass, Rounding, Value, Volume
from inspections.checker.check import check
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix, FixKind
from inspections.drawing.geometry import wall_sides
from inspections.fixes.fact_words import fact_name, value_words
from inspections.fixes.fixes import HouseFacts, fixes_of
from inspections.fixes.questions import Question, questions_of
from inspections.models import Item
from inspections.selectors import house_of, latest_revision
from jobs.access import corrects_houses
from jobs.models import Job, Person

UNITS: Mapping[FixKind, Callable[[float, Rounding], Value]] = {
    FixKind.LENGTH: Length,
    FixKind.VOLUME: Volume,
    FixKind.WEIGHT: Mass,
}


def correctable_by(person: Person, job: Job) -> dict[str, Any]:
    """The same for one person: nothing where the office of the shop looks first."""
    if corrects_houses(person, job.shop):
        return correctable(job)
    return {"revision": 0, "lines": [], "questions": [], "walls": {}}


def correctable(job: Job) -> dict[str, Any]:
    """The lines that can be closed by a fact, and what is missing, in the reader's words and units.

    `revision` is what a correction is based on; 0 before a house is recorded.
    """
    revision = latest_revision(job)
    if revision is None:
        return {"revision": 0, "lines": [], "questions": [], "walls": {}}
    house, rulebook = house_of(revision)
    facts = HouseFacts(house)
    findings = check(house, rulebook)
    items = _item_ids(job)
    lines = []
    for finding in findings:
        fixes = fixes_of(facts, finding)
        if fixes and finding.key in items:
            written = []
            for fix in fixes:
                written.append(fix_json(fix))
            lines.append({"item": items[finding.key], "key": finding.key, "fixes": written})
    places = {finding.key: finding.spot.text for finding in findings}
    questions = []
    for each in questions_of(facts, findings):
        questions.append(question_json(each, places[each.asked[0].key]))
    found = {"revision": revision.number, "lines": lines, "questions": questions}
    return found | {"walls": walls_json(house)}


def walls_json(house: House) -> dict[str, dict[str, list[float]]]:
    """Where the walls of each room are on the plan, mm east and down: left end, right end.

    Left and right as seen from inside; a tap on the plan becomes a place along one of them.
    """
    written: dict[str, dict[str, list[float]]] = {}
    for room in house.rooms:
        sides = {}
        for wall, side in wall_sides(room).items():
            sides[wall] = [*side.left, *side.at(side.length)]
        written[room.id] = sides
    return written


def _item_ids(job: Job) -> dict[str, str]:
    found = {}
    for item in Item.objects.filter(job=job, current=True).only("id", "rule", "subject"):
        found[f"{item.rule}:{item.subject}"] = str(item.id)
    return found


def fix_json(fix: Fix) -> dict[str, Any]:
    """A fix with its words: what is asked, what is recorded, what it is held to."""
    return {
        "path": list(fix.path),
        "kind": fix.kind.value,
        "name": say(fact_name(fix.path)),
        "now": fix.now,
        "now_says": say(value_words(fix.path, fix.now)),
        **_limits_json(fix),
        "choices": _choices_json(fix.path, fix.choices),
        "to": fix.to,
        "to_says": say(_to_words(fix)),
    }


def _to_words(fix: Fix) -> Value:
    """Where something is added or moved to; else the value itself."""
    if fix.kind is FixKind.ADDED and "place" in fix.to:
        return value_words(("boxes", str(fix.path[1]), "place"), fix.to["place"])
    return value_words(fix.path, fix.to)


def question_json(question: Question, place: Value) -> dict[str, Any]:
    """A question with its words, the parts that it is about, and the place of a single part."""
    asked = []
    for each in question.asked:
        asked.append({"part": each.part, "path": list(each.path), "key": each.key})
    return {
        "path": list(question.path),
        "kind": question.kind.value,
        "says": say(question.says),
        "where": say(place) if len(question.asked) == 1 else "",
        **_limits_json(question),
        "choices": _choices_json(question.path, question.choices),
        "to": question.to,
        "shared": question.shared,
        "asked": asked,
    }


def _choices_json(path: tuple[str | int, ...], choices: Iterable[Any]) -> list[dict[str, Any]]:
    written = []
    for each in choices:
        written.append({"value": each, "says": say(value_words(path, each))})
    return written


def _limits_json(fix: Fix | Question) -> dict[str, Any]:
    """The limits in mm, mL, kg or degrees, and as they are said, rounded to the safe side."""
    written: dict[str, Any] = {"least": fix.least, "most": fix.most}
    sides = (("least", fix.least, Rounding.UP), ("most", fix.most, Rounding.DOWN))
    for name, limit, rounding in sides:
        said: Value = ""
        if limit is not None:
            unit = UNITS.get(fix.kind)
            said = value_words(fix.path, limit) if unit is None else unit(limit, rounding)
        written[f"{name}_says"] = say(said)
    return written

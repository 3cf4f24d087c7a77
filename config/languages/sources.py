"""What has to be said in every language: the words of templates, of scripts and of house files."""

import re
from collections.abc import Iterator
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any

from babel.messages.extract import extract_python
from django.utils.translation.template import templatize

from config.environment import ROOT
from config.messages.message import Message, messages

KEYWORDS = ("gettext", "ngettext", "pgettext", "npgettext", "_")
SPOKEN = re.compile(r'\bsay\(\s*("(?:[^"\\]|\\.)*")')
"""A sentence with holes, or a word, that a script says."""
HOUSE = "house file"
"""The context of names in house files: one word may mean another thing elsewhere."""
UNIT = re.compile(r"_(mm|ml|kg|a|deg)$")
LETTER = re.compile("[a-z]", re.IGNORECASE)


def template_words() -> Iterator[tuple[Path, str, str | None]]:
    """Every text that a template of a page or a message marks, with the template and its context,
    if it has one."""
    for path in sorted((ROOT / "templates").rglob("*.*")):
        source = templatize(path.read_text("utf-8")).encode()
        for _, call, found, _ in extract_python(BytesIO(source), dict.fromkeys(KEYWORDS), (), {}):
            if isinstance(found, str):
                given = [found]
            else:
                given = list(found)
            context = None
            if call in ("pgettext", "npgettext"):
                context = given.pop(0)
            yield path, given[0], context


def script_words() -> Iterator[tuple[Path, str, None]]:
    """Every text that a script of a page says, with the script."""
    for path in sorted((ROOT / "static" / "js").rglob("*.js")):
        for literal in SPOKEN.findall(path.read_text("utf-8")):
            yield path, literal[1:-1].replace('\\"', '"'), None


MESSAGE_MODULES = (
    "api.refusal_messages",
    "config.fault_messages",
    "config.messages.lengths",
    "inspections.checker.check",
    "inspections.checker.load",
    "inspections.checker.rulebook_messages",
    "inspections.checker.workbook.workbook_messages",
    "inspections.building.model_messages",
    "inspections.conclusions.not_applicable_messages",
    "inspections.conclusions.undo_messages",
    "inspections.days.day_messages",
    "inspections.drawing.drawing_messages",
    "inspections.fixes.fact_words",
    "inspections.fixes.questions",
    "inspections.houses.amendment_messages",
    "inspections.houses.take_off_messages",
    "inspections.standing.link_messages",
    "inspections.loads.card_messages",
    "inspections.loads.check_messages",
    "inspections.loads.hookup_messages",
    "inspections.loads.line_messages",
    "inspections.loads.pole_messages",
    "inspections.overview.figure_messages",
    "inspections.overview.office_messages",
    "inspections.overview.timeline_messages",
    "inspections.papers.report.as_text",
    "inspections.papers.report.load_messages",
    "inspections.papers.report.report_messages",
    "inspections.papers.sheets.sheet_messages",
    "inspections.papers.site_messages",
    "inspections.pictures.picture_messages",
    "inspections.standing.authority_messages",
    "inspections.propose.proposal_messages",
    "inspections.standing.area_messages",
    "inspections.services.background",
    "inspections.services.fact_refusal_messages",
    "inspections.services.refusal_messages",
    "inspections.services.site_refusal_messages",
    "inspections.standing.breaches",
    "inspections.standing.contradictions",
    "inspections.standing.cover_layers",
    "inspections.standing.inspection_messages",
    "inspections.standing.moves",
    "inspections.standing.shown_messages",
    "jobs.invitation_messages",
    "jobs.moment_messages",
    "jobs.planning.fault_messages",
    "jobs.planning.holiday_names",
    "jobs.planning.inspection_messages",
    "jobs.planning.plan_messages",
    "jobs.planning.rates",
    "jobs.planning.weekday_messages",
    "jobs.planning.why_messages",
    "jobs.planning.work_messages",
    "jobs.refusal_messages",
    "jobs.services.refusal_messages",
    "notifications.messages.choices",
    "notifications.messages.cover",
    "notifications.messages.inspections",
    "notifications.messages.mail",
    "notifications.messages.permits",
    "notifications.messages.reasons",
    "notifications.messages.refusals",
    "notifications.messages.sending",
    "notifications.messages.shops",
    "pages.account.account_messages",
    "pages.field_messages",
    "pages.jobs.page_messages",
    "pages.office.labels",
    "pages.open.open_messages",
    "pages.page_messages",
)
"""What registers every message when it is imported."""


def register_messages() -> None:
    """Know every message by its id, as a process must that says what another one stored."""
    for name in MESSAGE_MODULES:  # not above: settings load this package
        import_module(name)


def program_messages() -> Iterator[Message]:
    """Every message that the program registers, by id."""
    register_messages()
    for name, each in sorted(messages().items()):
        if not name.startswith("test."):
            yield each


def schema_words() -> Iterator[tuple[Path, str, str]]:
    """Every name and value of the schema of house files, and what is told of each name, as
    `words` in static/js/draw/form.js makes them, with the context they are said in."""
    from inspections.checker.house import House  # not above: settings load this package

    place = ROOT / "inspections" / "checker" / "house"
    found: dict[str, None] = {}  # kept in order, each once
    for definition in House.model_json_schema()["$defs"].values():
        for name, fact in definition.get("properties", {}).items():
            found |= dict.fromkeys((words(name), fact.get("description", "")))
        labels = []
        for value in _values(definition):
            labels.append(words(str(value)))
        found |= dict.fromkeys(labels)
    for each in found:
        if LETTER.search(each):
            yield (place, each, HOUSE)


def words(name: str) -> str:
    """A name in the schema as people read it: `sill_mm` is "sill, mm"."""
    units = {"ml": "mL", "a": "A"}
    return UNIT.sub(lambda unit: f", {units.get(unit[1], unit[1])}", name).replace("_", " ")


def _values(schema: Any) -> Iterator[object]:
    """The values of every enum in a schema, however deep."""
    if isinstance(schema, dict):
        yield from schema.get("enum", ())
        for part in schema.values():
            yield from _values(part)
    elif isinstance(schema, list):
        for part in schema:
            yield from _values(part)

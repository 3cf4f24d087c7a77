"""The one next step of a job for whoever reads its page, and where on the page it is taken."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse

from config.messages.message import Text, Value
from inspections.overview.line_states import LineState
from inspections.standing.steps import NextStep, Who, who_words
from jobs.models import Job, Role
from pages.jobs import page_messages as words
from pages.jobs.room_rows import NumberedLine, item_address

MINE: Mapping[str, tuple[Who, ...]] = {
    Role.OFFICE: (Who.OFFICE,),
    Role.CREW_LEAD: (Who.LEAD, Who.CREW),
    Role.CREW_MEMBER: (Who.CREW,),
}
PLACES = (
    ("holds.permit", "permit"),
    ("moves.close", "permit"),
    ("moves.site-changes", "site-changes"),
    ("moves.release", "areas"),
    ("holds.withdrawn", "areas"),
    ("holds.boots", "insulation"),
    ("moves.temporary", "after-cover"),
    ("holds.house", "house"),
    ("moves.rough-in", "house"),
    ("moves.", "inspections"),
    ("holds.acceptance", "inspections"),
    ("holds.refused", "inspections"),
    ("holds.changed", "inspections"),
    ("holds.again", "inspections"),
    ("holds.deficiency", "inspections"),
    ("holds.corrected", "inspections"),
)
"""Where on the page a step is taken, by how the id of its message begins."""


@dataclass(frozen=True, slots=True)
class NextAct:
    """What the reader does next: its words, more of them, and where."""

    title: Value
    detail: Value
    href: str


def next_act(
    job: Job,
    role: Role | None,
    steps: Sequence[NextStep],
    lines: Sequence[NumberedLine],
    names: Mapping[str, str],
) -> NextAct | None:
    """The first thing that the reader can do; None where nothing is left to anybody.

    What is not to code comes first for a crew; for the office what only the office does.
    """
    mine = []
    for step in steps:
        if set(step.who) & set(MINE.get(role or "", ())):
            mine.append(step)
    if role == Role.OFFICE and mine:
        return _of_step(job, mine[0])
    if found := _of_lines(job, lines, names):
        return found
    if mine or steps:
        return _of_step(job, (mine or steps)[0])
    return None


def _of_lines(job: Job, lines: Sequence[NumberedLine], names: Mapping[str, str]) -> NextAct | None:
    """The first line of the worst state that is there, opened in its room."""
    by_state: dict[LineState, list[NumberedLine]] = {}
    for each in lines:
        by_state.setdefault(each.state, []).append(each)
    for state, title in (
        (LineState.NOT_TO_CODE, words.FIX_IT()),
        (LineState.INFO_NEEDED, words.ENTER_IT()),
    ):
        if found := by_state.get(state):
            first = found[0]
            room = str(first.line.item.finding["room"])
            href = item_address(first.line.item)
            detail = words.PLACES_NEXT(n=len(found), room=names.get(room, room))
            return NextAct(title, detail, href)
    if found := by_state.get(LineState.VERIFY):
        return NextAct(
            words.WALK_IT(), words.TO_VERIFY(n=len(found)), reverse("walk", args=[job.id])
        )
    return None


def _of_step(job: Job, step: NextStep) -> NextAct:
    return NextAct(step.what, who_words(step.who, job.authority.country), f"#{_place(step.what)}")


def _place(what: Value) -> str:
    """The part of the page where a step is taken."""
    if isinstance(what, Text):
        if what.id == "moves.in-area":
            return _place(what.given["what"])
        for begins, place in PLACES:
            if what.id.startswith(begins):
                return place
    return "steps"

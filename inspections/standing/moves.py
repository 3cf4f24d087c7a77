"""What moves a job on, and whose move it is. Pure: its stage and holds in, next steps out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from config.messages.message import Text, Value
from inspections.standing import move_messages as words
from inspections.standing.holds import ROUGH_IN_REASONS, HoldReason
from inspections.standing.inspection_messages import inspection_kind
from inspections.standing.inspection_states import STATES, InspectionState
from inspections.standing.stages import Stage
from inspections.standing.steps import Lift, NextStep, Who, steps_of

INSPECTION_LIFTS = frozenset({HoldReason.ACCEPTANCE, HoldReason.CHANGED})
"""Reasons that the inspector's next answer lifts."""
ALWAYS_SAID = ROUGH_IN_REASONS | {HoldReason.WITHDRAWN}
"""Reasons that somebody can lift now, whatever the rest of the job waits for."""
OFFICE, LEAD, AUTHORITY = (Who.OFFICE,), (Who.LEAD,), (Who.AUTHORITY,)
_KINDS = {Stage.HOOKUP: "hookup", Stage.FINAL: "final"}


@dataclass(frozen=True, slots=True)
class AreaNow:
    """What the moves need to know of an area: its name, holds and whether it is released."""

    name: str
    holds: Sequence[tuple[str, Sequence[Lift]]]
    """Reason of each hold, and the ways to lift it."""
    released: bool
    inspection: InspectionState | None = None
    """Where its latest unanswered inspection is; None when none is on its way."""
    withdrawn: bool = False
    """Whether it was released before, and that was withdrawn."""


@dataclass(frozen=True, slots=True)
class AgainNow:
    """An inspection that did not end in acceptance and has to be asked for again."""

    what: Text
    """The kind of inspection and its areas."""
    areas: Sequence[str] = ()
    fee: str = ""


@dataclass(frozen=True, slots=True)
class JobNow:
    """What the moves need to know of a job."""

    stage: Stage
    areas: Sequence[AreaNow] = ()
    inspections: Mapping[str, InspectionState | None] = field(default_factory=dict)
    """Where the inspection for a stage after the cover is, when one is on its way."""
    again: Sequence[AgainNow] = ()
    finish_open: int = 0
    temporary_until: date | None = None
    """The day by which the temporary service must go, while it is there."""
    certificate_in: bool = False
    permit_closed: bool = False
    site_changes: int = 0
    """Boxes found elsewhere than the house says, and not answered."""


def moves(job: JobNow) -> list[NextStep]:
    """What moves the job on from its stage, each once, the crew's own work first."""
    found = list(dict.fromkeys([*_again(job), *_moves(job)]))
    if job.site_changes:
        found.append(NextStep(OFFICE, words.SITE_CHANGES(n=job.site_changes)))
    return sorted(found, key=lambda move: move.who[0] is Who.OFFICE)


def _again(job: JobNow) -> Iterator[NextStep]:
    for again in job.again:
        what = words.AGAIN(inspection=again.what)
        if again.fee:
            what = words.AGAIN_FEE(inspection=again.what, fee=again.fee)
        yield NextStep(OFFICE, what)


def _moves(job: JobNow) -> Iterator[NextStep]:
    if job.stage in (Stage.PERMIT, Stage.ROUGH_IN, Stage.COVER_UP):
        yield from _before_cover(job)
    elif job.stage == Stage.HOOKUP:
        yield _inspection(job, Stage.HOOKUP, words.HOOKUP())
    else:
        yield from _after_cover(job)


def _before_cover(job: JobNow) -> Iterator[NextStep]:
    if not job.areas:
        yield NextStep(LEAD, words.ROUGH_IN())
    again: set[str] = set()
    for each in job.again:
        again.update(each.areas)
    for area in job.areas:
        if area.released:
            continue
        if not area.holds and area.withdrawn:
            yield _in_area(OFFICE, area, words.RELEASE_AGAIN())
        elif not area.holds:
            yield _in_area(OFFICE, area, words.RELEASE())
        for reason, lifts in area.holds:
            yield from _lifting(job, area, reason, lifts, area.name in again)


def _in_area(who: tuple[Who, ...], area: AreaNow, what: Value) -> NextStep:
    return NextStep(who, words.IN_AREA(area=area.name, what=what))


def _lifting(
    job: JobNow, area: AreaNow, reason: str, lifts: Sequence[Lift], asked_again: bool
) -> Iterator[NextStep]:
    """Who lifts a hold of an area and how, unless that is told by another step or comes later."""
    if reason in INSPECTION_LIFTS and area.inspection:
        yield _coming(area, area.inspection)
    elif reason == HoldReason.ACCEPTANCE and asked_again:
        return
    elif reason == HoldReason.PERMIT:
        yield from steps_of(lifts)
    elif reason in ALWAYS_SAID or job.stage == Stage.COVER_UP:
        for step in steps_of(lifts):
            yield _in_area(step.who, area, step.what)


def _coming(area: AreaNow, state: InspectionState) -> NextStep:
    """The inspector's move while an inspection is on its way; the office's when it came to none."""
    if state is InspectionState.NO_ACCESS:
        return _in_area(OFFICE, area, words.RESCHEDULE())
    return _in_area(AUTHORITY, area, words.INSPECTION(state=STATES[state]()))


def _after_cover(job: JobNow) -> Iterator[NextStep]:
    if job.stage == Stage.FINISH:
        yield NextStep(LEAD, words.FINISH(n=job.finish_open))
    if job.temporary_until:
        yield NextStep(OFFICE, words.TEMPORARY(day=job.temporary_until))
    if job.stage == Stage.FINAL and not job.certificate_in:
        yield _inspection(job, Stage.FINAL, words.FINAL())
    elif job.certificate_in and not job.permit_closed:
        yield NextStep(OFFICE, words.CLOSE())


def _inspection(job: JobNow, stage: Stage, otherwise: Text) -> NextStep:
    """The authority's move when the inspection is on its way, the office's to ask for it before."""
    state = job.inspections.get(stage)
    if state is None:
        return NextStep(OFFICE, otherwise)
    if state is InspectionState.NO_ACCESS:
        return NextStep(OFFICE, words.RESCHEDULE())
    inspection = inspection_kind(_KINDS[stage])
    return NextStep(AUTHORITY, words.INSPECTION_OF(inspection=inspection, state=STATES[state]()))

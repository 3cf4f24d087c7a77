"""What moves a job on, and whose move it is. Pure: its stage and holds in, moves out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from inspections.standing.holds import ROUGH_IN_REASONS, HoldReason
from inspections.standing.stages import Stage

INSPECTION_LIFTS = frozenset({HoldReason.ACCEPTANCE, HoldReason.CHANGED})
"""Reasons that the inspector's next answer lifts."""
ALWAYS_SAID = ROUGH_IN_REASONS | {HoldReason.WITHDRAWN}
"""Reasons that somebody can lift now, whatever the rest of the job waits for."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """One thing that moves a job on."""

    who: str
    what: str


@dataclass(frozen=True, slots=True)
class AreaNow:
    """What the moves need to know of an area: its name, holds and whether it is released."""

    name: str
    holds: Sequence[tuple[str, str]]
    """Reason and `who: how` of each hold."""
    released: bool
    inspection: str = ""
    """Where its latest unanswered inspection stands; empty when none is on its way."""
    withdrawn: bool = False
    """Whether it was released before, and that was withdrawn."""


@dataclass(frozen=True, slots=True)
class AgainNow:
    """An inspection that did not end in acceptance and has to be asked for again."""

    what: str
    """The kind of inspection and its areas, as a person would say them."""
    areas: Sequence[str] = ()
    fee: str = ""


@dataclass(frozen=True, slots=True)
class JobNow:
    """What the moves need to know of a job."""

    stage: Stage
    areas: Sequence[AreaNow] = ()
    inspections: Mapping[str, str] = field(default_factory=dict)
    """Where the inspection for a stage after the cover stands, when one is on its way."""
    again: Sequence[AgainNow] = ()
    finish_open: int = 0
    temporary_until: str = ""
    """The day by which the temporary service must go, while it is there."""
    certificate_in: bool = False
    permit_closed: bool = False
    site_changes: int = 0
    """Boxes found elsewhere than the house says, and not answered."""


def moves(job: JobNow) -> list[NextStep]:
    """What moves the job on from its stage, each once, the crew's own work first."""
    found = list(dict.fromkeys([*_again(job), *_moves(job)]))
    if job.site_changes:
        what = f"accept or leave what was found of where boxes stand: {job.site_changes}"
        found.append(NextStep("office", what))
    return sorted(found, key=lambda move: move.who.startswith("office"))


def _again(job: JobNow) -> Iterator[NextStep]:
    for again in job.again:
        fee = ""
        if again.fee:
            fee = f" (fee {again.fee})"
        yield NextStep("office", f"ask for the {again.what} visit again, once it is mended{fee}")


def _moves(job: JobNow) -> Iterator[NextStep]:
    if job.stage in (Stage.PERMIT, Stage.ROUGH_IN, Stage.COVER_UP):
        yield from _before_cover(job)
    elif job.stage == Stage.HOOKUP:
        yield _inspection(
            job, Stage.HOOKUP, "ask for the construction hookup and record its reference"
        )
    else:
        yield from _after_cover(job)


def _before_cover(job: JobNow) -> Iterator[NextStep]:
    if not job.areas:
        yield NextStep("crew lead", "record what was roughed in")
    again: set[str] = set()
    for each in job.again:
        again.update(each.areas)
    for area in job.areas:
        if area.released:
            continue
        if not area.holds and area.withdrawn:
            what = "release it for cover again; what withdrew it is answered"
            yield NextStep("office", f"{area.name}: {what}")
        elif not area.holds:
            yield NextStep("office", f"{area.name}: clear it for cover")
        for reason, lifted_by in area.holds:
            yield from _lifting(job, area, reason, lifted_by, area.name in again)


def _lifting(
    job: JobNow, area: AreaNow, reason: str, lifted_by: str, asked_again: bool
) -> Iterator[NextStep]:
    """Who lifts a hold of an area and how, unless that is told by another step or comes later."""
    who, _, how = lifted_by.partition(": ")
    if reason in INSPECTION_LIFTS and area.inspection:
        yield NextStep("authority", f"{area.name}: the visit is {area.inspection}")
    elif reason == "acceptance" and asked_again:
        return
    elif reason == "permit":
        yield NextStep(who, how)
    elif reason in ALWAYS_SAID or job.stage == Stage.COVER_UP:
        yield NextStep(who, f"{area.name}: {how}")


def _after_cover(job: JobNow) -> Iterator[NextStep]:
    if job.stage == Stage.FINISH:
        items = "items are"
        if job.finish_open == 1:
            items = "item is"
        yield NextStep(
            "crew lead", f"finish: {job.finish_open} {items} still to look at or to mend"
        )
    if job.temporary_until:
        yield NextStep("office", f"have the temporary service removed by {job.temporary_until}")
    if job.stage == Stage.FINAL and not job.certificate_in:
        yield _inspection(job, Stage.FINAL, "ask for the final visit and record the certificate")
    elif job.certificate_in and not job.permit_closed:
        yield NextStep("office", "close the permit")


def _inspection(job: JobNow, stage: Stage, otherwise: str) -> NextStep:
    """The authority's move when the inspection is on its way, the office's to ask for it before."""
    state = job.inspections.get(stage)
    if state:
        return NextStep("authority", f"the {stage} visit is {state}")
    return NextStep("office", otherwise)

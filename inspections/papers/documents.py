"""Documents of a job: what is on record, drawn on sheets."""

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from django.utils import timezone

from config.languages.own_words import Typed
from config.messages.message import Text, Value
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.conclusions.areas import today_at
from inspections.conclusions.signs import job_age
from inspections.models import HouseRevision, Link, Observation
from inspections.overview.as_drawn import waits_as_drawn
from inspections.overview.measured import tape_words
from inspections.papers.sheets import sheet_messages as says
from inspections.papers.sheets.checklist import SeenMark, checklist_pdf
from inspections.papers.sheets.frame import TitleBlock
from inspections.papers.sheets.placard import placard_pdf
from inspections.record.checks import check_address
from inspections.selectors import ChecklistLine, checklist, house_of
from inspections.standing.holds import Seen, Standing
from inspections.standing.shown_messages import seen_shown
from inspections.standing.sources import KnownBy
from jobs.models import Job


def title_block(job: Job, revision: HouseRevision, sheet: Value, rulebook: str) -> TitleBlock:
    """The title block of a job's sheet, dated by the clock at the house."""
    now = timezone.now()
    made = now.astimezone(ZoneInfo(job.time_zone))
    amended = load_rulebook(revision.rulebook, revision.amendments).amended
    return TitleBlock(
        sheet=sheet,
        job=job.name,
        address=job.address,
        shop=job.shop.name,
        stage=says.STAGES[job.standing.stage](),
        revision=str(revision.number),
        date=today_at(job, now).isoformat(),
        rulebook=rulebook,
        made=f"{made:%Y-%m-%d %H:%M} {job.time_zone}",
        amendments=says.AMENDMENTS(n=len(amended)) if amended else says.NO_AMENDMENTS(),
        check=check_address(job, revision),
        age=job_age(job, now).words(job.time_zone) or "",
    )


def job_checklist_pdf(job: Job, revision: HouseRevision, paper: str = "letter") -> bytes:
    """The checklist of a job's latest revision with what was seen on site."""
    house, rulebook = house_of(revision)
    block = title_block(job, revision, says.ROUGH_IN_CHECKLIST(), rulebook.title)
    findings, lines = check(house, rulebook), checklist(job)
    return checklist_pdf(
        house,
        rulebook,
        findings,
        title_block=block,
        marks=seen_marks(job, lines),
        alone=confirmed_alone(job, lines),
        paper=paper,
    )


def confirmed_alone(job: Job, lines: Sequence[ChecklistLine]) -> set[str]:
    """What nobody has seen, and what is not confirmed with its room either."""
    alone = set()
    for line in lines:
        if line.latest is None and not waits_as_drawn(line, job.shop.photo_rules):
            alone.add(str(line.item))
    return alone


def seen_marks(job: Job, lines: Sequence[ChecklistLine]) -> dict[str, SeenMark]:
    """What was last seen of each line, by the key of its finding, as it counts."""
    marks = {}
    for line in lines:
        if line.latest is not None:
            seen = line.latest
            if line.changed_since:
                word = says.CHANGED()
            else:
                word = _mark_word(line, seen)
            when = today_at(job, seen.seen_at).isoformat()
            counts = not line.changed_since
            marks[str(line.item)] = SeenMark(
                word,
                str(seen.seen_by),
                when,
                seen.note,
                passed=counts and line.standing is Standing.OK and not line.not_applicable,
                failing=counts and line.standing is Standing.FIX,
                na=line.not_applicable,
                measured=_measured(line, seen),
            )
    return marks


def _measured(line: ChecklistLine, seen: Observation) -> Value:
    """What a tape showed, where a line is OK by that."""
    if line.known_by is KnownBy.MEASURED:
        return tape_words(seen)
    return ""


def _mark_word(line: ChecklistLine, seen: Observation) -> Text:
    """What was seen, in a word; a pass that does not count is none."""
    if line.contested:
        return says.CONTESTED()
    if line.measure_fault:
        return seen_shown(Seen.FIX)
    return seen_shown(seen.outcome)


def area_placard_pdf(link: Link, address: str, paper: str = "letter") -> bytes:
    """The placard of an area, whose code opens its live state at the address."""
    area, job = link.area, link.job
    assert area is not None  # a placard is of one
    block = TitleBlock(
        sheet=says.PLACARD(),
        job=job.name,
        address=job.address,
        shop=job.shop.name,
        area=Typed(area.name),
        date=today_at(job, link.made_at).isoformat(),
        made=f"{link.made_at.astimezone(ZoneInfo(job.time_zone)):%Y-%m-%d %H:%M} {job.time_zone}",
        check=says.SCAN(),
    )
    return placard_pdf(block, address=address, number=str(link.id)[-12:], paper=paper)

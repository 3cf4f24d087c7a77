"""The load calculation, panel schedule and hookup sheet of a job, from what is on record."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from django.utils import timezone

from config.languages import say
from inspections.checker.amendments import load_rulebook
from inspections.checker.load import load_house
from inspections.conclusions.areas import today_at
from inspections.conclusions.signs import area_sign
from inspections.loads import facts_of, service_load
from inspections.loads.hookup import Outside, hookup_sheet
from inspections.loads.panel import panels
from inspections.models import Acceptance, HouseRevision
from inspections.overview.hookup_authorization import authorised_in, permit_trouble
from inspections.papers.documents import title_block
from inspections.papers.report.document import Document
from inspections.papers.report.load_documents import hookup_document, load_document, panel_document
from inspections.papers.report.load_json import hookup_json, load_json, panel_json
from inspections.papers.sheets.tables import document_pdf
from inspections.selectors import latest_revision
from inspections.standing.age import Sign
from inspections.standing.stages import Milestone
from jobs.models import Job, Permit


class LoadSheet(StrEnum):
    """The sheets of power that a job has."""

    LOAD = "load"
    PANEL = "panel"
    HOOKUP = "hookup"


@dataclass(frozen=True)
class Drawn:
    """A sheet as a document and as JSON values."""

    document: Document
    values: dict[str, Any]


def job_sheet(job: Job, revision: HouseRevision, which: LoadSheet) -> Drawn:
    """One of the sheets, by the revision's own rulebook and local amendments."""
    house = load_house(revision.house.encode())
    book = load_rulebook(revision.rulebook, revision.amendments)
    if which is LoadSheet.LOAD:
        load = service_load(facts_of(house, book), book)
        return Drawn(load_document(house, load), load_json(house, load))
    if which is LoadSheet.PANEL:
        found = panels(house, book)
        return Drawn(panel_document(house, book, found), panel_json(house, book, found))
    sheet = hookup_sheet(house, book, outside_of(job, revision))
    return Drawn(hookup_document(house, book, sheet), hookup_json(house, book, sheet))


def job_sheet_pdf(
    job: Job, revision: HouseRevision, which: LoadSheet, paper: str = "letter"
) -> bytes:
    """The same on paper, with the job's title block."""
    document = job_sheet(job, revision, which).document
    block = title_block(job, revision, document.name, document.rulebook)
    return document_pdf(document, title_block=block, paper=paper)


def outside_of(job: Job, revision: HouseRevision | None = None) -> Outside:
    """What the record says of permit, rough-in, hookup and temporary service.

    The hookup's circuits are held against a revision of the house, the latest without one.
    """
    permit = Permit.objects.filter(job=job).first()
    reached = {each.milestone: each for each in job.milestones.all()}
    gone = reached.get(Milestone.TEMPORARY_GONE)
    signs = set()
    for area in job.areas.select_related("standing", "job__standing"):
        signs.add(area_sign(area))
    latest = Acceptance.objects.filter(area__job=job).order_by("recorded_at").last()
    outside = Outside(
        permit_issued=_issued(job, permit),
        permit_reference=permit.number if permit else "",
        rough_in_accepted=_accepted(signs),
        rough_in_reference=latest.reference if latest else "",
        temporary_gone_on=gone.reached_on if gone else None,
        permit_says=say(permit_trouble(job), "en"),
    )
    hookup = reached.get(Milestone.HOOKUP)
    if hookup is None:
        return outside
    return replace(
        outside,
        hookup_reference=hookup.reference,
        temporary_until=hookup.temporary_until,
        hookup_on=hookup.reached_on,
        authorised=authorised_in(hookup, revision or latest_revision(job)),
    )


def _issued(job: Job, permit: Permit | None) -> bool:
    """Whether a permit is issued by today at the house."""
    day = None
    if permit:
        day = permit.issued_on
    return day is not None and day <= today_at(job, timezone.now())


def _accepted(signs: set[Sign]) -> bool | None:
    """Whether every area is clear; None when that was so and nobody has checked it since."""
    if not signs or Sign.HOLD in signs:
        return False
    if Sign.UNCHECKED in signs:
        return None
    return True

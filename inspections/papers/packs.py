"""Packs: several sheets of a job in one file, with a bookmark for each."""

from collections.abc import Callable, Sequence

from inspections.models import HouseRevision, Pack
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.load_sheets import LoadSheet, job_sheet_pdf
from inspections.papers.site_sheets import SiteSheet, site_sheet_pdf
from jobs.models import Job

Part = tuple[str, Callable[[], bytes]]


def pack_parts(
    job: Job, revision: HouseRevision, kind: Pack.Kind, paper: str = "letter"
) -> Sequence[Part]:
    """The parts of a pack by name, each made when it is called."""

    def power(sheet: LoadSheet) -> Callable[[], bytes]:
        return lambda: job_sheet_pdf(job, revision, sheet, paper)

    def work(sheet: SiteSheet) -> Callable[[], bytes]:
        return lambda: site_sheet_pdf(job, revision, sheet, paper)

    checklist = ("Rough-in checklist", lambda: job_checklist_pdf(job, revision, paper))
    load = ("Load calculation", power(LoadSheet.LOAD))
    panel = ("Panel schedule and card", power(LoadSheet.PANEL))
    called = ("Deficiencies", work(SiteSheet.DEFICIENCIES))
    if kind == Pack.Kind.CLOSE_OUT:
        return [("Owner's sheet", work(SiteSheet.HANDOVER)), panel, load, called, checklist]
    return [checklist, load, panel, ("Construction hookup", power(LoadSheet.HOOKUP)), called]

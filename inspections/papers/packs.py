"""Packs: several sheets of a job in one file, with a bookmark for each."""

from collections.abc import Callable, Sequence

from config.messages.message import Value
from inspections.models import HouseRevision, Pack
from inspections.papers import site_messages as says
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.load_sheets import LoadSheet, job_sheet_pdf
from inspections.papers.sheets.sheet_messages import ROUGH_IN_CHECKLIST
from inspections.papers.site_sheets import SiteSheet, site_sheet_pdf
from jobs.models import Job

Part = tuple[Value, Callable[[], bytes]]


def pack_parts(
    job: Job, revision: HouseRevision, kind: Pack.Kind, paper: str = "letter"
) -> Sequence[Part]:
    """The parts of a pack by name, each made when it is called."""

    def power(sheet: LoadSheet) -> Callable[[], bytes]:
        return lambda: job_sheet_pdf(job, revision, sheet, paper)

    def work(sheet: SiteSheet) -> Callable[[], bytes]:
        return lambda: site_sheet_pdf(job, revision, sheet, paper)

    checklist: Part = (ROUGH_IN_CHECKLIST(), lambda: job_checklist_pdf(job, revision, paper))
    load: Part = (says.LOAD(), power(LoadSheet.LOAD))
    panel: Part = (says.PANEL_AND_CARD(), power(LoadSheet.PANEL))
    written_up: Part = (says.PACK_DEFICIENCIES(), work(SiteSheet.DEFICIENCIES))
    if kind == Pack.Kind.CLOSE_OUT:
        return [(says.OWNER(), work(SiteSheet.HANDOVER)), panel, load, written_up, checklist]
    return [checklist, load, panel, (says.HOOKUP(), power(LoadSheet.HOOKUP)), written_up]

"""Packs: several sheets of a job in one file, with a bookmark for each."""

from collections.abc import Callable, Sequence
from functools import partial

from config.languages import say
from config.messages.message import Value
from inspections.models import HouseRevision, Pack
from inspections.papers import site_messages as says
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.inspector_pack import inspector_pack_pdf
from inspections.papers.load_sheets import LoadSheet, job_sheet_pdf
from inspections.papers.pack_messages import SHEET
from inspections.papers.sheets.bundle import bundle_pdf
from inspections.papers.sheets.sheet_messages import ROUGH_IN_CHECKLIST
from inspections.papers.site_sheets import SiteSheet, site_sheet_pdf
from jobs.models import Job

Part = tuple[Value, Callable[[], bytes]]


def pack_parts(
    job: Job, revision: HouseRevision, kind: Pack.Kind, paper: str = "letter", appendix: str = ""
) -> Sequence[Part]:
    """The parts of a pack by name, each made when it is called.

    `appendix` is the address that opens the appendix of an inspector's pack; empty without one.
    """

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
    return [(SHEET(), lambda: inspector_pack_pdf(job, revision, paper, appendix))]


def appendix_parts(job: Job, revision: HouseRevision, paper: str = "letter") -> Sequence[Part]:
    """What an inspector may ask for beside the pack: workings, loads, hookup, photographs."""
    parts: list[Part] = [
        (ROUGH_IN_CHECKLIST(), lambda: job_checklist_pdf(job, revision, paper)),
    ]
    named = {
        LoadSheet.LOAD: says.LOAD(),
        LoadSheet.PANEL: says.PANEL_AND_CARD(),
        LoadSheet.HOOKUP: says.HOOKUP(),
    }
    for sheet, name in named.items():
        parts.append((name, partial(job_sheet_pdf, job, revision, sheet, paper)))
    written_up = partial(site_sheet_pdf, job, revision, SiteSheet.DEFICIENCIES, paper)
    parts.append((says.PACK_DEFICIENCIES(), written_up))
    return parts


def appendix_pdf(job: Job, revision: HouseRevision, paper: str = "letter") -> bytes:
    """The appendix in one file, with a bookmark for each part."""
    made = []
    for name, make in appendix_parts(job, revision, paper):
        made.append((say(name), make()))
    return bundle_pdf(made)

"""The site list of a job: its open lines by the numbers that its plan and its list have too."""

from inspections.checker.check import check
from inspections.models import HouseRevision, Item
from inspections.overview.open_lines import open_lines
from inspections.papers.documents import confirmed_alone, seen_marks, title_block
from inspections.papers.sheets import site_list_messages as words
from inspections.papers.sheets.sheet_messages import STAGES
from inspections.papers.sheets.site_list import SiteList, site_list_pdf
from inspections.selectors import checklist, house_of
from inspections.standing.stages import Stage
from jobs.models import Job

AT_FINISH = (Stage.FINISH, Stage.FINAL)


def job_site_list_pdf(job: Job, revision: HouseRevision, paper: str = "letter") -> bytes:
    """What is open of the stage that the job is at, and what was seen of it on site."""
    stage = Item.Stage.ROUGH_IN
    if job.standing.stage in AT_FINISH:
        stage = Item.Stage.FINISH
    house, rulebook = house_of(revision)
    findings = []
    for finding in check(house, rulebook):
        if finding.rule.stage == stage:
            findings.append(finding)
    lines = checklist(job, stage=stage)
    numbers = {}
    for each in open_lines(lines):
        numbers[str(each.line.item)] = each.number
    listed = SiteList(house, findings, seen_marks(job, lines), confirmed_alone(job, lines), numbers)
    sheet = words.SHEET_STAGE(sheet=words.SITE_LIST(), stage=STAGES[stage]())
    block = title_block(job, revision, sheet, rulebook.title)
    return site_list_pdf(listed, rulebook, title_block=block, paper=paper)

"""Whatever somebody answered has no open box on any paper of its job."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from inspections.checker.finding import Verdict
from inspections.models import Item, Outcome
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.inspector_pack import inspector_pack_pdf
from inspections.papers.sheets import site_rows
from inspections.papers.sheets.rows import WITHIN, SheetRow
from inspections.papers.sheets.tick_boxes import TickBox, draw_tick
from inspections.papers.site_list import job_site_list_pdf
from inspections.selectors import latest_revision
from inspections.services.observations import item_observe
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def boxes(monkeypatch) -> list[TickBox | None]:
    """The boxes of every paper, as they are drawn."""
    drawn: list[TickBox | None] = []

    def tick(canvas, box, left, bottom):
        drawn.append(box)
        draw_tick(canvas, box, left, bottom)

    class Row(SheetRow):
        def draw(self) -> None:
            drawn.append(self.box)
            super().draw()

    monkeypatch.setattr(site_rows, "draw_tick", tick)
    monkeypatch.setattr("inspections.papers.sheets.checklist.SheetRow", Row)
    return drawn


PAPERS = {
    "checklist": job_checklist_pdf,
    "site list": job_site_list_pdf,
    "inspector's pack": inspector_pack_pdf,
}


@pytest.mark.parametrize("paper", PAPERS)
def test_of_a_walked_house_only_what_is_of_the_finish_is_open(
    shop, house_bytes, boxes, paper
) -> None:
    job = shop.roughed_in(house_bytes)
    revision = sure(latest_revision(job))
    PAPERS[paper](job, revision)
    unwalked = boxes.count(TickBox.OPEN)
    for area in job.areas.all():
        shop.look_at(area)
    boxes.clear()
    PAPERS[paper](job, revision)
    finish = job.items.filter(current=True, stage=Item.Stage.FINISH)
    to_answer = finish.exclude(verdict=Verdict.OK, workmanship=False)
    assert boxes.count(TickBox.OPEN) <= to_answer.count()
    assert TickBox.OPEN not in boxes or paper == "checklist"
    assert paper == "inspector's pack" or unwalked > boxes.count(TickBox.OPEN)


@pytest.mark.parametrize(
    ("outcome", "box"),
    [(Outcome.OK, TickBox.OK), (Outcome.FIX, TickBox.FIX), (Outcome.NA, TickBox.NA)],
)
def test_an_answer_stands_in_the_box_of_its_line(shop, house_bytes, boxes, outcome, box) -> None:
    job = shop.roughed_in(house_bytes)
    revision = sure(latest_revision(job))
    item = job.items.filter(rule="cable-sheaths", verdict=Verdict.VERIFY).first()
    item = item or job.items.filter(verdict=Verdict.VERIFY, stage="rough-in").first()
    job_checklist_pdf(job, revision)
    before = boxes.count(TickBox.OPEN)
    item_observe(shop.member, item=item, outcome=outcome, note="no cable here yet")
    boxes.clear()
    pdf = job_checklist_pdf(job, revision)
    assert boxes.count(box) == 1
    assert boxes.count(TickBox.OPEN) == before - 1
    drawn = b"".join(sure(page.get_contents()).get_data() for page in PdfReader(BytesIO(pdf)).pages)
    assert drawn.count(WITHIN[box].encode()) == 1


def test_what_the_figures_settle_has_no_box(shop, house_bytes, boxes) -> None:
    job = shop.roughed_in(house_bytes)
    job_checklist_pdf(job, sure(latest_revision(job)))
    settled = job.items.filter(current=True, verdict=Verdict.OK, workmanship=False)
    assert settled.exists()
    assert boxes.count(None) == settled.count()

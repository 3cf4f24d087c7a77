"""The sheets that a crew works by, and the inspector's pack, read back from paper."""

import re
from datetime import UTC, datetime
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from pypdf import PdfReader

from config.languages import say, spoken_to
from config.messages.kept import message_of
from inspections.models import Answer, Outcome
from inspections.papers.packs import appendix_pdf
from inspections.papers.report.document import Document, DocumentRow, PhotographBlock, Section
from inspections.papers.sheets.frame import TitleBlock
from inspections.papers.sheets.tables import document_pdf
from inspections.papers.site_sheets import SiteSheet, site_sheet, site_sheet_pdf
from inspections.selectors import checklist, latest_revision
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct, deficiency_photograph
from inspections.services.observations import item_observe
from inspections.standing.holds import Standing
from tests.clock import Clock
from tests.sure import sure

BLOCK = TitleBlock(sheet="x", job="y")


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def text_of(pdf: bytes) -> str:
    return squeezed("".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages))


def cells(document: Document) -> list[str]:
    rows = [row for section in document.sections for row in section.rows]
    return [say(text) for row in rows for text in (*row.cells, *row.under)]


def photograph(colour: str = "gray") -> bytes:
    made = BytesIO()
    Image.new("RGB", (640, 480), colour).save(made, "JPEG")
    return made.getvalue()


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


@pytest.fixture
def called(shop, job):
    area = job.areas.get(code="garage")
    inspection = shop.booked(area, insist=True)
    said = [Called(area, "no plate at the top", rule="edge-distance", where="north wall")]
    answers = {area: Answer.NOT_ACCEPTED}
    inspection_answer(
        shop.office, inspection=inspection, answers=answers, reference="R2", called=said
    )
    return job.deficiencies.get()


@pytest.mark.django_db
def test_the_correction_list_has_all_that_fails_or_is_not_recorded(shop, job, called) -> None:
    looked = job.items.filter(verdict="verify", stage="rough-in").first()
    item_observe(shop.member, item=looked, outcome=Outcome.FIX, note="hangs loose")
    document = site_sheet(job, sure(latest_revision(job)), SiteSheet.CORRECTIONS)
    open_lines = [
        line for line in checklist(job) if line.standing in (Standing.FIX, Standing.INFO_NEEDED)
    ]
    rows = sum(len(section.rows) for section in document.sections)
    assert rows == len(open_lines) + 1
    assert say(document.says) == f"{rows} items to correct or to record."
    assert "no plate at the top" in cells(document)
    text = text_of(site_sheet_pdf(job, sure(latest_revision(job)), SiteSheet.CORRECTIONS))
    for line in open_lines:
        for part in ("says", "remedy", "where"):
            assert squeezed(say(message_of(line.item.finding[part]))) in text, line.item
    assert squeezed(document.rulebook) in text
    assert "hangsloose" in text
    assert "noplateatthetop" in text
    deficiency_correct(shop.lead, deficiency=called)
    again = site_sheet(job, sure(latest_revision(job)), SiteSheet.CORRECTIONS)
    assert "no plate at the top" not in cells(again)


@pytest.mark.django_db
def test_the_deficiency_list_shows_each_with_its_days_and_photographs(shop, job, called) -> None:
    file = SimpleUploadedFile("a.jpg", photograph(), "image/jpeg")
    deficiency_photograph(shop.lead, deficiency=called, upload=file)
    deficiency_correct(shop.lead, deficiency=called)
    pdf = site_sheet_pdf(job, sure(latest_revision(job)), SiteSheet.DEFICIENCIES)
    text = text_of(pdf)
    for part in ("1. no plate at the top", "Garage, north wall", "before correction"):
        assert squeezed(part) in text
    assert "1deficiencywrittenup,1notacceptedyet." in text
    assert sum(len(page.images) for page in PdfReader(BytesIO(pdf)).pages) == 1


@pytest.mark.django_db
def test_the_take_off_counts_what_the_house_has(shop, job) -> None:
    import json

    house = json.loads(sure(latest_revision(job)).house)
    with spoken_to("en", "metric"):
        document = site_sheet(job, sure(latest_revision(job)), SiteSheet.TAKE_OFF)
        rows = [
            [say(cell) for cell in row.cells]
            for section in document.sections
            for row in section.rows
        ]
    boxes = sum(int(much) for kind, _, much in rows if kind == "box")
    assert boxes == len(house["boxes"])
    breakers = sum(int(much) for kind, _, much in rows if kind == "breaker")
    assert breakers == len(house["circuits"])
    runs = [much for kind, _, much in rows if kind == "cable" and much.endswith(" m")]
    metres = sum(float(much.removesuffix(" m").replace(",", "")) for much in runs)
    drawn = sum(cable.get("length_mm", 0) for cable in house["cables"]) / 1000
    assert metres == pytest.approx(drawn, abs=len(runs))
    unmeasured = sum(not cable.get("length_mm") for cable in house["cables"])
    assert (document.verdict == "info_needed") == bool(unmeasured)


@pytest.mark.django_db
def test_the_appendix_holds_every_part_under_its_bookmark(shop, job, called) -> None:
    reader = PdfReader(BytesIO(appendix_pdf(job, sure(latest_revision(job)))))
    names = [each.title for each in reader.outline if not isinstance(each, list)]
    assert names == [
        "Rough-in checklist",
        "Load calculation",
        "Panel schedule and card",
        "Construction hookup",
        "Deficiencies",
    ]
    begins = [
        sure(reader.get_destination_page_number(each))
        for each in reader.outline
        if not isinstance(each, list)
    ]
    assert begins == sorted(set(begins))
    words = ("checklist", "load", "panel", "hookup", "deficiency")
    for begin, name in zip(begins, words, strict=True):
        assert name in reader.pages[begin].extract_text().lower()


def test_photographs_stay_whole_within_the_page() -> None:
    pictures = tuple(PhotographBlock(photograph(), f"picture {n}") for n in range(5))
    section = Section("Called", (), (DocumentRow(("where", "here")),), (0.2, 0.8), (), pictures)
    document = Document("Sheet", "House", "book", "not_to_code", "says", (section,) * 3)
    for paper in ("letter", "a4"):
        reader = PdfReader(BytesIO(document_pdf(document, title_block=BLOCK, paper=paper)))
        assert any(page.images for page in reader.pages)
        text = "".join(page.extract_text() for page in reader.pages)
        assert text.count("picture 4") == 3


def test_the_same_document_gives_the_same_bytes(monkeypatch) -> None:
    Clock(datetime(2026, 3, 13, 22, tzinfo=UTC)).put(monkeypatch)
    section = Section("Called", (), (), (), (), (PhotographBlock(photograph("red"), "a"),))
    document = Document("Sheet", "House", "book", "not_to_code", "says", (section,))
    assert document_pdf(document, title_block=BLOCK) == document_pdf(document, title_block=BLOCK)

"""Every document of a lived-in job, read back: complete, in its frame, nothing over anything.

The pages land in var/documents, to look at.
"""

import re
from collections.abc import Iterator
from datetime import timedelta
from io import BytesIO
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from django.utils import timezone
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from config.languages import say
from config.messages.message import Value
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.papers.documents import area_placard_pdf, job_checklist_pdf
from inspections.papers.load_sheets import LoadSheet, job_sheet, job_sheet_pdf
from inspections.papers.report.document import Document
from inspections.papers.sheets.frame import FOOT, MARGIN
from inspections.papers.site_list import job_site_list_pdf
from inspections.papers.site_sheets import SiteSheet, site_sheet, site_sheet_pdf
from inspections.record.checks import paper_of
from inspections.selectors import house_of, latest_revision
from inspections.services.links import placard_make
from inspections.services.packs import pack_ask, pack_make
from tests.lived import lived_in
from tests.sure import of_kind, sure

DOCUMENTS = Path(__file__).resolve().parents[2] / "var" / "documents"
pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
SOME = 3  # pages of each; `make proof` looks at all
TOUCH = 1.0  # points by which letters of two lines may come near


@pytest.fixture
def job(shop, house_bytes):
    return lived_in(shop, house_bytes)["job"]


@pytest.fixture
def documents(job, shop) -> dict[str, bytes]:
    """Every document there is, by name; on both papers."""
    revision = sure(latest_revision(job))
    found: dict[str, bytes] = {}
    for paper in ("letter", "a4"):
        found[f"checklist-{paper}"] = job_checklist_pdf(job, revision, paper)
        found[f"site-list-{paper}"] = job_site_list_pdf(job, revision, paper)
        for sheet in LoadSheet:
            found[f"{sheet}-{paper}"] = job_sheet_pdf(job, revision, sheet, paper)
        for sheet in SiteSheet:
            found[f"{sheet}-{paper}"] = site_sheet_pdf(job, revision, sheet, paper)
    link, _ = placard_make(shop.office, area=job.areas.first())
    found["placard"] = area_placard_pdf(link, "http://localhost/l/x")
    for kind in ("inspector", "close_out"):
        pack = pack_make(pack_ask(shop.office, job=job, kind=kind).id)
        found[f"pack-{kind}"] = bytes(sure(pack.content))
    DOCUMENTS.mkdir(parents=True, exist_ok=True)
    for name, content in found.items():
        (DOCUMENTS / f"{name}.pdf").write_bytes(content)
    return found


def test_nothing_runs_off_a_page_or_over_anything_else(documents, whole) -> None:
    faults = []
    for name, content in documents.items():
        if name.startswith("pack"):
            continue  # the same pages once more
        with pdfplumber.open(BytesIO(content)) as opened:
            for page in opened.pages if whole else opened.pages[:SOME]:
                faults += [f"{name}, page {page.page_number}: {each}" for each in _faults(page)]
    assert not faults, "\n".join(faults[:20])


def _faults(page) -> list[str]:
    lines = page.extract_text_lines(return_chars=False)
    left, right = MARGIN - 5, page.width - MARGIN + 5
    found = [
        f"{line['text']!r} runs off"
        for line in lines
        if not (left <= line["x0"] and line["x1"] <= right and 0 <= line["top"] <= page.height)
    ]
    words = page.extract_words(keep_blank_chars=True, use_text_flow=False, x_tolerance=2)
    words.sort(key=lambda word: word["top"])
    for one, other in _near(words):
        across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
        down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
        tall = min(one["bottom"] - one["top"], other["bottom"] - other["top"])
        if across > TOUCH and down > tall * 0.6:
            found.append(f"{one['text']!r} lies over {other['text']!r}")
    return found


def _near(words: list[dict[str, Any]]) -> Iterator[tuple[dict[str, Any], dict[str, Any]]]:
    """Each two words of which one begins above where the other ends."""
    for number, one in enumerate(words):
        for other in words[number + 1 :]:
            if other["top"] > one["bottom"]:
                break
            yield one, other


def test_each_carries_its_job_revision_rulebook_time_number_and_check_address(documents) -> None:
    for name, content in documents.items():
        pages = PdfReader(BytesIO(content)).pages
        for number, page in enumerate(pages, 1):
            text = page.extract_text()
            assert "Lot 15" in text, name
            assert re.search(r"made \d{4}-\d\d-\d\d \d\d:\d\d America/Edmonton", text), name
            if not name.startswith("pack"):
                assert f"{number} of {len(pages)}" in text, name
        if name != "placard":
            assert "CSA C22.1" in pages[0].extract_text(), name
            token = sure(re.search(r"/paper/(\S+)/", pages[0].extract_text())).group(1)
            assert paper_of(token).current, name
            assert "local amendments" in pages[0].extract_text(), name


def test_each_tells_when_it_was_made(documents) -> None:
    for name, content in documents.items():
        about = sure(PdfReader(BytesIO(content)).metadata)
        made = sure(about.creation_date)
        assert abs(made - timezone.now()) < timedelta(minutes=10), name


def test_letters_are_embedded_and_can_be_selected(documents) -> None:
    for name, content in documents.items():
        for page in PdfReader(BytesIO(content)).pages:
            resources = of_kind(DictionaryObject, page["/Resources"])
            for font in of_kind(DictionaryObject, resources["/Font"]).values():
                described = font.get_object()
                base = described.get("/DescendantFonts", [described])[0].get_object()
                if base["/BaseFont"] != "/Helvetica":  # named by the library, used by nothing
                    assert "/FontFile2" in base["/FontDescriptor"], (name, base["/BaseFont"])


def squeezed(text: str) -> str:
    """Letters and figures alone, since lines break anywhere."""
    return re.sub(r"[^\w]", "", text)


def words_of(document: Document) -> list[Value]:
    found = [document.says]
    for section in document.sections:
        found.append(section.title)
        found += [cell for row in section.rows for cell in (*row.cells, *row.under)]
        found += section.notes
    return [say(each) for each in found if each]


def test_every_figure_of_its_source_is_in_its_text(documents, job) -> None:
    revision = sure(latest_revision(job))
    sources = {f"{s}-letter": job_sheet(job, revision, s).document for s in LoadSheet}
    sources |= {f"{s}-letter": site_sheet(job, revision, s) for s in SiteSheet}
    for name, document in sources.items():
        text = _by_cells(documents[name])
        for each in words_of(document):
            for word in say(each).split():
                assert squeezed(word) in text, (name, each, word)
    text = _by_cells(documents["checklist-letter"])
    for finding in check(*house_of(revision)):
        for said in _on_paper(finding):
            for word in say(said).split():
                assert squeezed(word) in text, (finding.key, said, word)


def _on_paper(finding: Finding) -> list[Value]:
    """What a checklist has of a finding: of what is as drawn in a room, one line by its titles."""
    if finding.verdict is not Verdict.OK:
        return [finding.words.says, finding.words.figure]
    if finding.rule.workmanship:
        return [finding.rule.named]
    return [finding.words.says]


def _by_cells(content: bytes) -> str:
    pages = PdfReader(BytesIO(content)).pages
    return squeezed("".join(page.extract_text() for page in pages))


def test_the_same_facts_at_the_same_time_give_the_same_bytes(job, monkeypatch) -> None:
    revision = sure(latest_revision(job))
    moment = revision.recorded_at
    monkeypatch.setattr("inspections.papers.documents.timezone.now", lambda: moment)
    one = [job_checklist_pdf(job, revision), site_sheet_pdf(job, revision, SiteSheet.HANDOVER)]
    assert one == [
        job_checklist_pdf(job, revision),
        site_sheet_pdf(job, revision, SiteSheet.HANDOVER),
    ]


def test_the_line_beneath_the_frame_is_within_the_paper() -> None:
    assert 0 < FOOT < MARGIN - 5

"""The inspector's pack: few sheets, open points first, what was verified by whom."""

from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from django.urls import reverse
from pypdf import PdfReader

from config.languages import say
from config.messages.kept import message_of
from inspections.models import Item, Outcome
from inspections.overview.open_lines import open_lines
from inspections.papers.inspector_pack import inspector_pack_pdf
from inspections.selectors import checklist, latest_revision
from inspections.services.observations import item_observe
from tests.sure import sure

DOCUMENTS = Path(__file__).resolve().parents[2] / "var" / "documents"
pytestmark = pytest.mark.django_db


def test_a_house_takes_four_sheets_with_open_points_first(shop, planted_bytes) -> None:
    job = shop.roughed_in(planted_bytes)
    passed = job.items.filter(rule="box-support", stage="rough-in")[0]
    item_observe(shop.member, item=passed, outcome=Outcome.OK)
    pdf = inspector_pack_pdf(job, sure(latest_revision(job)))
    DOCUMENTS.mkdir(parents=True, exist_ok=True)
    (DOCUMENTS / "inspector-pack.pdf").write_bytes(pdf)
    with pdfplumber.open(BytesIO(pdf)) as opened:
        assert len(opened.pages) <= 4
        for page in opened.pages:
            for char in page.chars:
                assert char["size"] >= 8.99, (page.page_number, char["text"], char["size"])
    text = "".join("".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages)
    marks = ("Openpoints", "Deficienciesandtheircorrections", "Verifiedonsite", "PanelP1")
    found = [text.index(each) for each in marks]
    assert found == sorted(found)
    for each in open_lines(checklist(job, stage=Item.Stage.ROUGH_IN)):
        said = "".join(say(message_of(each.line.item.finding["says"])).split())
        assert said in text, said
    assert f"1linebyitself,{''.join(str(shop.member).split())}" in text
    assert "Boxsupport" in text


def test_the_appendix_is_for_the_office(shop, client, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    address = reverse("appendix-pdf", args=[job.id])
    client.force_login(shop.office)
    reader = PdfReader(BytesIO(client.get(address).content))
    names = [sure(each.title) for each in reader.outline if not isinstance(each, list)]
    assert names[:2] == ["Rough-in checklist", "Load calculation"]
    assert names[-1] == "Deficiencies"
    client.force_login(shop.lead)
    assert client.get(address).status_code == 404

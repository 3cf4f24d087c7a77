"""Sheets in French and Spanish: nothing on paper is left in English but what people typed."""

import re
from io import BytesIO

import pytest
from django.utils import translation
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from inspections.papers.documents import job_checklist_pdf
from inspections.papers.load_sheets import LoadSheet, job_sheet_pdf
from inspections.papers.sheets.frame import TitleBlock
from inspections.papers.sheets.placard import placard_pdf
from inspections.papers.site_sheets import SiteSheet, site_sheet_pdf
from inspections.selectors import latest_revision
from inspections.services.packs import pack_ask, pack_make
from jobs.services.people import language_set
from tests.lived import lived_in
from tests.pages.account.test_languages import ENGLISH, typed
from tests.sure import of_kind, sure

pytestmark = pytest.mark.django_db
CITED = re.compile(r"\b(before|beside|CEC|NEC|Tables? \d+( and \d+)?|NBC)\b")
"""How sections are cited, as the rulebook has them."""
ALIKE = {"no", "in", "date", "on", "wall"}
"""Words that French or Spanish have too; and what a wall of the house is called."""


@pytest.fixture
def lived(shop, house_bytes):
    return lived_in(shop, house_bytes)


def left(pdf: bytes, names: list[str]) -> list[str]:
    """Where a sheet is English, with the words round it."""
    found = []
    for page in PdfReader(BytesIO(pdf)).pages:
        text = " ".join(page.extract_text().split())
        for name in names:
            text = text.replace(name, "…")
        text = CITED.sub("", text)
        found += [
            text[max(0, match.start() - 40) : match.end() + 40]
            for match in ENGLISH.finditer(text)
            if match[0].lower() not in ALIKE
        ]
    return found


@pytest.mark.parametrize("language", ["fr", "es"])
def test_every_sheet_of_a_job_is_said_in_it(shop, lived, house_bytes, language) -> None:
    job, names = lived["job"], typed(house_bytes)
    names += ["Canadian Electrical Code, Part I, 25th edition", "The Gully at Fernhollow"]
    revision = sure(latest_revision(job))
    with translation.override(language):
        sheets = {"checklist": job_checklist_pdf(job, revision)}
        sheets |= {each: job_sheet_pdf(job, revision, each) for each in LoadSheet}
        sheets |= {each: site_sheet_pdf(job, revision, each) for each in SiteSheet}
        block = TitleBlock(sheet="Placard", job="Lot 1", area="Wing")
        sheets["placard"] = placard_pdf(block, address="https://x.example/l/1", number="1")
    wrong = [f"{name}: {line}" for name, pdf in sheets.items() for line in left(pdf, names)]
    assert not wrong, "\n".join(wrong[:80])


def test_a_pack_is_in_the_language_of_whoever_asked_for_it(shop, lived) -> None:
    language_set(shop.office, language="fr")
    pack = pack_make(pack_ask(shop.office, job=lived["job"], kind="inspector").id)
    reader = PdfReader(BytesIO(bytes(sure(pack.content))))
    titles = [each.title for each in reader.outline if not isinstance(each, list)]
    assert "Dossier de l'inspecteur" in titles
    assert "Rough-in checklist" not in titles


def test_a_sheet_names_its_language_for_whoever_has_it_read_out(shop, lived) -> None:
    revision = sure(latest_revision(lived["job"]))
    with translation.override("es"):
        pdf = site_sheet_pdf(lived["job"], revision, SiteSheet.CORRECTIONS)
    root = of_kind(DictionaryObject, PdfReader(BytesIO(pdf)).trailer["/Root"])
    assert str(root["/Lang"]) == "es"

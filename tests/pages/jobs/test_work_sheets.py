"""The sheets of the work as pages, to the crew and to nobody outside the shop."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from inspections.papers.site_sheets import SiteSheet

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


@pytest.mark.parametrize("which", list(SiteSheet))
def test_the_crew_reads_each_on_page_and_paper(client, shop, stranger_shop, job, which) -> None:
    page, paper = f"/jobs/{job.id}/sheets/{which}/", f"/jobs/{job.id}/sheets/{which}.pdf"
    client.force_login(shop.member)
    assert "Print this sheet (PDF)" in client.get(page).text
    answer = client.get(paper)
    assert answer.headers["Content-Type"] == "application/pdf"
    assert job.address in PdfReader(BytesIO(answer.content)).pages[0].extract_text()
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(page).status_code == 404
        assert client.get(paper).status_code == 404


def test_the_pack_is_the_office_s(client, shop, job) -> None:
    client.force_login(shop.office)
    asked = client.post(f"/jobs/{job.id}/packs/", {"kind": "inspector"})
    assert "Waiting to start." in client.get(asked.url).content.decode()
    assert client.get(f"/jobs/{job.id}/sheets/nothing/").status_code == 404
    client.force_login(shop.lead)
    assert client.post(f"/jobs/{job.id}/packs/", {"kind": "inspector"}).status_code == 404

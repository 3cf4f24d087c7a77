"""Load calculation, panel schedule and hookup sheet of a job, for its office alone."""

from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from inspections.load_sheets import LoadSheet, outside_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def get(client, person, name, job, which):
    client.force_login(person)
    return client.get(reverse(name, args=[job.id, which]))


def test_the_office_reaches_each_sheet_from_the_job(client, shop, job) -> None:
    client.force_login(shop.office)
    page = client.get(reverse("job", args=[job.id])).text
    for which in LoadSheet:
        address = reverse("load-sheet", args=[job.id, which.value])
        assert address in page
        text = client.get(address).text
        assert "licenses nobody" in text
        assert "title-block" in text


def test_each_sheet_shows_what_it_is_for(client, shop, job) -> None:
    assert "Basic load" in get(client, shop.office, "load-sheet", job, "load").text
    panel = get(client, shop.office, "load-sheet", job, "panel").text
    assert "Card for the door of panel P1" in panel
    assert "Receptacles: Bedroom 2" in panel
    hookup = get(client, shop.office, "load-sheet", job, "hookup").text
    assert "LOCKED OFF and labelled" in hookup
    assert "Permit issued" in hookup


@pytest.mark.parametrize("which", [each.value for each in LoadSheet])
def test_each_sheet_is_there_on_paper_with_the_job_s_title_block(client, shop, job, which) -> None:
    answer = get(client, shop.office, "load-sheet-pdf", job, which)
    assert answer.headers["Content-Type"] == "application/pdf"
    pages = [page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages]
    assert all(job.name in text for text in pages)


def test_a_program_reads_the_same_figures(client, shop, job) -> None:
    load = get(client, shop.office, "load-sheet-json", job, "load").json()
    assert load["ways"][0]["lines"][0]["key"] == "basic"
    panel = get(client, shop.office, "load-sheet-json", job, "panel").json()
    assert panel["panels"][0]["panel"] == "P1"
    hookup = get(client, shop.office, "load-sheet-json", job, "hookup").json()
    assert hookup["readiness"][0]["verdict"] == "meets"


@pytest.mark.parametrize("who", ["lead", "member", "builder", "other_builder"])
@pytest.mark.parametrize("name", ["load-sheet", "load-sheet-pdf", "load-sheet-json"])
def test_nobody_else_meets_them(client, shop, job, who, name) -> None:
    assert get(client, getattr(shop, who), name, job, "load").status_code == 404
    client.force_login(getattr(shop, who))
    assert "/power/" not in client.get(reverse("job", args=[job.id])).text


def test_another_shop_and_a_stranger_meet_nothing(client, stranger_shop, shop, job) -> None:
    assert get(client, stranger_shop.office, "load-sheet", job, "load").status_code == 404
    client.logout()
    answer = client.get(reverse("load-sheet", args=[job.id, "load"]))
    assert answer.headers["Location"].startswith("/sign-in/")


def test_a_sheet_that_is_none_and_a_job_without_a_house_give_404(client, shop, job) -> None:
    assert get(client, shop.office, "load-sheet", job, "water").status_code == 404
    bare = shop.job("Lot 99")
    assert get(client, shop.office, "load-sheet", bare, "load").status_code == 404


def test_the_record_tells_the_hookup_of_permit_and_rough_in(shop, job) -> None:
    told = outside_of(job)
    assert told.permit_issued
    assert told.permit_reference
    assert told.rough_in_accepted is False
    bare = outside_of(shop.job("Lot 99"))
    assert (bare.permit_issued, bare.rough_in_accepted) == (False, False)

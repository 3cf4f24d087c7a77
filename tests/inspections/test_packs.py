"""Packs: asked for, made part by part with a progress that is true, taken up when a worker dies."""

import re
from datetime import timedelta
from io import BytesIO

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader
from rest_framework.test import APIClient

from config.messages.kept import in_english
from inspections.models import Pack
from inspections.papers.packs import pack_parts
from inspections.record.checks import check_address
from inspections.services import packs as making
from inspections.services.houses import house_record
from inspections.services.links import cover_link_make, link_withdraw
from inspections.services.packs import KEPT, pack_ask, pack_make, packs_due
from jobs.access import NotAllowed
from pages.open.cover_links import links_of
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def outline(pack: Pack) -> list[str]:
    return titles(bytes(sure(pack.content)))


def titles(content: bytes) -> list[str]:
    found = PdfReader(BytesIO(content)).outline
    return [sure(each.title) for each in found if not isinstance(each, list)]


@pytest.mark.parametrize(
    ("kind", "parts", "in_file", "first"),
    [("inspector", 6, 1, "Inspector's"), ("close_out", 5, 5, "Owner's")],
)
def test_a_pack_has_a_bookmark_for_each_part(shop, job, kind, parts, in_file, first) -> None:
    pack = pack_make(pack_ask(shop.office, job=job, kind=kind).id)
    assert pack.state == Pack.State.MADE
    assert len(outline(pack)) == in_file
    assert pack.parts == pack.done == parts
    assert outline(pack)[0].startswith(first)


def test_its_progress_is_that_of_the_work(shop, job, client, monkeypatch) -> None:
    pack = pack_ask(shop.office, job=job, kind="close_out")
    seen = []
    real = pack_parts

    def watched(*given):
        def wrap(make):
            def made():
                now = Pack.objects.get(id=pack.id)
                seen.append((now.done, now.parts, now.part))
                return make()

            return made

        return [(name, wrap(make)) for name, make in real(*given)]

    monkeypatch.setattr(making, "pack_parts", watched)
    client.force_login(shop.office)
    page = client.get(reverse("pack", args=[pack.id])).content.decode()
    assert "Waiting to start." in page
    pack_make(pack.id)
    assert [each[:2] for each in seen] == [(n, 5) for n in range(5)]
    assert in_english(seen[1][2]) == "Panel schedule and card"
    page = client.get(reverse("pack", args=[pack.id])).content.decode()
    assert "Open pack (PDF)" in page
    assert "hx-get" not in page
    file = client.get(reverse("pack-pdf", args=[pack.id]))
    assert file.content.startswith(b"%PDF")


def test_one_whose_worker_died_is_taken_up_and_one_in_hand_is_not(shop, job) -> None:
    pack = pack_ask(shop.office, job=job, kind="inspector")
    later = timezone.now() + timedelta(minutes=2)
    assert packs_due() == []
    assert packs_due(later) == [pack.id]
    Pack.objects.filter(id=pack.id).update(begun_at=timezone.now())
    assert packs_due(timezone.now() + timedelta(seconds=70)) == []
    assert pack_make(pack.id).state == Pack.State.ASKED
    Pack.objects.filter(id=pack.id).update(begun_at=timezone.now() - making.TAKEN_UP)
    assert pack_make(pack.id).state == Pack.State.MADE
    again = pack_make(pack.id)
    assert again.done == again.parts == 6


def test_old_ones_go_by_themselves(shop, job) -> None:
    pack = pack_make(pack_ask(shop.office, job=job, kind="inspector").id)
    packs_due(timezone.now() + timedelta(days=32))
    assert not Pack.objects.filter(id=pack.id).exists()


def test_bad_asking_is_refused(shop, job, client) -> None:
    with pytest.raises(NotAllowed):
        pack_ask(shop.lead, job=job, kind="inspector")
    with pytest.raises(ValidationError, match="kind"):
        pack_ask(shop.office, job=job, kind="everything")
    with pytest.raises(ValidationError, match="letter or a4"):
        pack_ask(shop.office, job=job, kind="inspector", paper="a0")
    bare = shop.job("Lot 16")
    with pytest.raises(ValidationError, match="Record one first"):
        pack_ask(shop.office, job=bare, kind="inspector")
    pack = pack_ask(shop.office, job=job, kind="inspector")
    client.force_login(shop.office)
    assert client.get(reverse("pack-pdf", args=[pack.id])).status_code == 404


def test_a_program_asks_follows_and_fetches(shop, job) -> None:
    api = APIClient()
    api.force_authenticate(shop.office)
    asked = api.post(f"/api/jobs/{job.id}/packs", {"kind": "close_out"}, format="json")
    assert asked.status_code == 202
    address = f"/api/packs/{asked.data['id']}"
    assert api.get(address).data["state"] == "asked"
    assert api.get(f"{address}/file").status_code == 404
    pack_make(asked.data["id"])
    assert api.get(address).data["done"] == 5
    assert api.get(f"{address}/file").content.startswith(b"%PDF")


def test_a_paper_says_whether_it_is_current(shop, job, client, house_bytes) -> None:
    address = check_address(job, job.revisions.last()).partition("8765")[2]
    assert "This paper is current" in client.get(address).content.decode()
    house_record(shop.office, job=job, house=house_bytes)
    page = client.get(address).content.decode()
    assert "This paper is out of date" in page
    assert "made from revision 1; revision 2 is current." in page
    assert client.get("/paper/made-up/").status_code == 404


def test_the_code_on_an_inspectors_pack_opens_its_appendix(shop, job, client) -> None:
    pack = pack_make(pack_ask(shop.office, job=job, kind="inspector").id)
    address = address_on(pack)
    page = client.get(address)
    assert job.name in page.text
    assert "<small>revision</small><b>1</b>" in page.text
    assert f"{address}/appendix.pdf" in page.text
    found = client.get(f"{address}/appendix.pdf")
    assert found.headers["Content-Type"] == "application/pdf"
    names = titles(found.content)
    assert names[0] == "Rough-in checklist"
    assert len(names) == 5
    (link,) = links_of(job)
    assert link.expires_at == pack.asked_at + KEPT
    link_withdraw(shop.office, link=link)
    for gone in (address, f"{address}/appendix.pdf"):
        assert client.get(gone).status_code == 410


def test_a_pack_that_is_made_again_has_one_code_and_an_old_pack_none(shop, job, client) -> None:
    pack = pack_ask(shop.office, job=job, kind="inspector")
    address = address_on(pack_make(pack.id))
    Pack.objects.filter(id=pack.id).update(state=Pack.State.ASKED, begun_at=None)
    again = address_on(pack_make(pack.id))
    assert client.get(address).status_code == 404
    assert job.links.count() == 1
    Pack.objects.filter(id=pack.id).delete()
    assert "not kept any more" in client.get(again).text
    assert client.get(f"{again}/appendix.pdf").status_code == 404


def test_a_link_to_the_cover_opens_no_appendix(shop, job, client) -> None:
    pack_make(pack_ask(shop.office, job=job, kind="inspector").id)
    _, secret = cover_link_make(shop.office, job=job, for_whom="Pellow")
    assert client.get(reverse("link-appendix", args=[secret])).status_code == 404


def test_a_close_out_pack_has_no_code(shop, job) -> None:
    pack = pack_make(pack_ask(shop.office, job=job, kind="close_out").id)
    assert pack.appendix is None
    assert not job.links.exists()


def address_on(pack: Pack) -> str:
    """What the code on the sheet of a pack opens, as it is written beneath it."""
    sheets = PdfReader(BytesIO(bytes(sure(Pack.objects.get(id=pack.id).content)))).pages
    found = re.search(r"/l/[\w-]+", sheets[-1].extract_text())
    return sure(found)[0]

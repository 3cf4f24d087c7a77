"""What is sent to break things: refused in words, or kept as the harmless text that it is."""

from functools import cache
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image
from pypdf import PdfReader

from inspections.checker.finding import Verdict
from inspections.models import Observation, Photograph
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
JSON = "application/json"
MARKUP = "<script>alert(1)</script><b>{{ 7*7 }}</b>{% now 'Y' %}'; DROP TABLE jobs_job; --"


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def item(job):
    return job.items.filter(verdict=Verdict.VERIFY).first()


@pytest.fixture
def client(shop):
    made = Client(raise_request_exception=False)
    made.force_login(shop.office)
    return made


@pytest.mark.parametrize(
    "body",
    [
        b"[" * 100_000,
        b'{"outcome": ' + b'{"a": ' * 5000 + b"1" + b"}" * 5000 + b"}",
        b'{"outcome": "ok", "note": ' + b"9" * 100_000 + b"}",
        b'{"outcome": NaN}',
        b'{"outcome": "\\ud800"}',
        b'{"outcome": "ok", "\\uDC00": "\\ud83e"}',
        b'{"outcome": "ok"',
        b'\xff\xfe{"outcome": "ok"}',
        b"",
        b"null",
        b"[]",
        b'"ok"',
        b'{"outcome": {"$ne": null}}',
        b'{"outcome": "ok", "seen_at": "9999-99-99"}',
        b'{"outcome": "ok", "note": "a\\u0000b"}',
    ],
)
def test_a_body_that_cannot_be_is_refused_and_nothing_is_written(client, shop, item, body) -> None:
    answer = client.post(f"/api/items/{item.id}/observations", body, JSON)
    assert answer.status_code in (400, 422), answer.content[:200]
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert not shop.own(Observation).exists()


def test_a_character_of_two_halves_is_one(client, item) -> None:
    body = b'{"outcome": "ok", "note": "\\ud83e\\uddf0"}'
    assert client.post(f"/api/items/{item.id}/observations", body, JSON).json()["note"] == "🧰"


@pytest.mark.parametrize("text", [MARKUP, "../../etc/passwd", "=cmd|' /C calc'!A0", "\u202eabc"])
def test_text_is_kept_as_it_is_and_shown_as_text(client, shop, job, item, text, tmp_path) -> None:
    given = {"outcome": "ok", "note": text}
    made = client.post(f"/api/items/{item.id}/observations", given, JSON)
    assert made.json()["note"] == text
    page = client.get(f"/jobs/{job.id}/").text
    assert "<script>alert" not in page
    assert "49" not in page.partition("alert(1)")[2][:40]
    sheet = client.get(f"/api/jobs/{job.id}/checklist.pdf")
    assert sheet.status_code == 200
    text_of_sheet = "".join(each.extract_text() for each in PdfReader(BytesIO(sheet.content)).pages)
    assert "49" not in text_of_sheet.partition("alert(1)")[2][:40]
    client.patch(f"/api/jobs/{job.id}", {"name": text[:100]}, JSON)
    job.refresh_from_db()
    assert job.name == text[:100]
    assert "<script>alert" not in client.get("/").text


@pytest.mark.parametrize(
    "path",
    [
        "/api/jobs?cursor=%00",
        "/api/jobs?cursor=cD0lMDA%3D",
        "/api/jobs?limit=-1&find=%27%20OR%201%3D1",
        "/api/jobs?builder=x",
        "/api/jobs?find=%00",
        "/api/changes?since=%D9%A3",
        "/api/jobs/../../etc/passwd",
        "/api/jobs?fields=__class__",
        "/jobs/%00/",
    ],
)
def test_an_address_that_cannot_be_is_answered(client, job, path) -> None:
    assert client.get(path).status_code in (200, 400, 404)


@cache
def bomb(kind: str) -> bytes:
    made = BytesIO()
    if kind == "picture":
        Image.new("L", (30_000, 30_000)).save(made, "PNG")
    elif kind == "zip":
        with ZipFile(made, "w", ZIP_DEFLATED) as archive:
            archive.writestr("[Content_Types].xml", b"0" * 60_000_000)
    return made.getvalue()


@pytest.mark.parametrize("name", ["../../evil.jpg", "a\x00.jpg", "x" * 400 + ".jpg", "a.svg"])
@pytest.mark.parametrize("content", [b"<svg onload=alert(1)>", b"", b"GIF89a", "a bomb"])
def test_what_is_no_picture_is_refused(client, shop, item, name, content) -> None:
    if content == "a bomb":
        content = bomb("picture")
    file = SimpleUploadedFile(name, content, "image/jpeg")
    answer = client.post(f"/api/items/{item.id}/photographs", {"file": file})
    assert answer.status_code in (400, 422), answer.content[:200]
    assert not shop.own(Photograph).exists()


def test_a_house_that_is_a_bomb_is_refused(client, job) -> None:
    file = SimpleUploadedFile("house.xlsx", bomb("zip"), "application/zip")
    answer = client.post(f"/jobs/{job.id}/house-file/", {"house": file})
    assert answer.status_code == 422
    assert job.revisions.count() == 1

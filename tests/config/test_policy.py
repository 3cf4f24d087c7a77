"""Browsers are told to run and load nothing but the site's own files."""

import re
from datetime import datetime, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from config.middleware import HEADERS, POLICY, UNUSED
from tests.conftest import EXAMPLES

TEMPLATES = [  # a mail is no page: its reader has no style sheet of ours
    path
    for path in sorted((EXAMPLES.parent / "templates").rglob("*.html"))
    if path.parent.name != "notices"
]


@pytest.mark.django_db
def test_every_answer_carries_the_policy(client, shop) -> None:
    client.force_login(shop.office)
    for path in ("/", "/healthy", "/nowhere/", "/api/jobs"):
        assert client.get(path).headers["Content-Security-Policy"] == POLICY
    assert "unsafe" not in POLICY


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_needs_what_the_policy_forbids(path) -> None:
    text = path.read_text("utf-8")
    assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=|javascript:", text)
    assert not re.search(r"(?:src|href)=[\"\']https?:", text)


@pytest.mark.django_db
def test_answers_of_every_kind_say_what_browsers_may_do(client, shop, settings) -> None:
    """Pages, files, redirects, refusals, faults (OWASP, HTTP Security Response Headers)."""
    client.force_login(shop.office)
    answers = {
        "page": client.get("/"),
        "nothing": client.get("/nowhere/"),
        "program": client.get("/api/jobs"),
        "file": client.get("/static/htmx/none.js"),
        "own file": client.get("/static/css/draw.css"),
        "redirect": Client().get("/jobs/new/"),
        "refused": Client(enforce_csrf_checks=True).post("/sign-in/", {}),
        "no host": client.get("/", headers={"Host": "somebody.else.example"}),
        "no text": client.get("/?a=%00"),
    }
    statuses = {name: answer.status_code for name, answer in answers.items()}
    assert statuses["refused"] == 403
    assert (statuses["no host"], statuses["no text"]) == (400, 400)
    for name, answer in answers.items():
        for header, value in HEADERS.items():
            assert answer.headers[header] == value, name
        assert "Server" not in answer.headers
    page = answers["page"].headers
    assert page["Cross-Origin-Embedder-Policy"] == "require-corp"
    assert page["Permissions-Policy"].count("=()") == len(UNUSED)


@pytest.mark.django_db
def test_a_fault_of_ours_says_so_too(shop, monkeypatch) -> None:
    def breaks(*_: object, **__: object) -> None:
        raise RuntimeError

    monkeypatch.setattr("config.middleware.coming_from", breaks)
    answer = Client(raise_request_exception=False).get("/")
    assert answer.status_code == 500
    for header, value in HEADERS.items():
        assert answer.headers[header] == value


def test_no_template_asks_for_what_is_off() -> None:
    for path in sorted((EXAMPLES.parent / "static" / "js").rglob("*.js")):
        text = path.read_text("utf-8")
        assert not re.search(r"getUserMedia|geolocation|requestFullscreen|wakeLock|\.share\(", text)


@pytest.mark.every_clock
def test_whom_to_tell_of_a_hole_stands_where_rfc_9116_has_it(client, settings) -> None:
    assert client.get("/.well-known/security.txt").status_code == 404
    contacts = ["mailto:holes@studbay.example", "https://studbay.example/holes"]
    given = {"studbay_security_contact": contacts}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=given)
    answer = client.get("/.well-known/security.txt")
    assert answer.headers["Content-Type"] == "text/plain; charset=utf-8"  # section 3
    fields = [line.split(": ", 1) for line in answer.text.splitlines()]
    assert [value for name, value in fields if name == "Contact"] == contacts
    said = dict(fields)
    expires = datetime.fromisoformat(said["Expires"])
    assert timedelta(days=170) < expires - timezone.now() < timedelta(days=365)  # section 2.5.5
    assert said["Preferred-Languages"] == "en, fr, es"
    assert said["Canonical"].endswith("/.well-known/security.txt")
    assert client.post("/.well-known/security.txt").status_code == 405

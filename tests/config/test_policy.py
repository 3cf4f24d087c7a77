"""Browsers are told to run and load nothing but the site's own files."""

import re

import pytest

from config.middleware import POLICY
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

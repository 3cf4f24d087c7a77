"""What no browser sends: texts that are none, links that hold something else."""

import ast
from pathlib import Path

import pytest
from django.core import signing
from django.test import Client
from django.urls import reverse

from inspections.record.checks import SALT

ROOT = Path(__file__).resolve().parents[2]
PAGES = sorted((ROOT / "pages").glob("*.py"))


@pytest.fixture
def office(shop) -> Client:
    client = Client(raise_request_exception=False)
    client.force_login(shop.office)
    return client


@pytest.mark.django_db
@pytest.mark.parametrize(
    "path",
    [
        "/?find=%00", "/today/?find=a%00", "/calendars/%00.ics", "/l/%00", "/join/%00",
        "/paper/%00/", "/seen/%00/", "/stop/%00/", "/api/jobs?find=%00", "/rulebooks/?x%00=1",
    ],
)  # fmt: skip
def test_an_address_that_holds_no_text_cannot_be_read(office, path) -> None:
    assert office.get(path).status_code == 400


@pytest.mark.django_db
def test_a_form_that_holds_no_text_is_refused_before_anything_is_asked(office, shop) -> None:
    job = shop.job()
    for name, given in {
        "firm": {"name": "Pell\x00ow"},
        "link-make": {"for_whom": "Pat", "da\x00ys": "3"},
        "invite": {"for_whom": "\x00", "role": "office"},
    }.items():
        args = [job.id] if name == "link-make" else []
        assert office.post(reverse(name, args=args), given).status_code == 400
    assert shop.shop.invitations.count() == 0


@pytest.mark.django_db
def test_a_tick_that_holds_no_text_is_refused(client, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    client.force_login(shop.member)
    item, now = job.items.first(), "2026-03-16T10:00:00Z"
    tick = {"id": "0192f0e0-0000-7000-8000-000000000001", "item": str(item.id), "outcome": "fix"}
    tick |= {"fingerprint": item.fingerprint, "made_at": now, "known_at": now, "note": "a\x00b"}
    sent = {"phone_now": now, "ticks": [tick]}
    path = reverse("walk-sync", args=[job.id])
    answer = client.post(path, sent, content_type="application/json")
    assert (answer.status_code, "cannot be kept" in answer.json()["faults"][0]["says"]) == (
        400,
        True,
    )


@pytest.mark.django_db
@pytest.mark.parametrize(
    "inside", ["", "a", "a.b.c", "....", "AAAAAAAAAAAAAAAAAAAAAA.x.y", "é.1.1"]
)
def test_a_paper_signed_with_something_else_is_none_of_ours(client, inside) -> None:
    token = signing.Signer(salt=SALT).sign(inside)
    assert client.get(reverse("paper", args=[token])).status_code == 404


@pytest.mark.django_db
def test_a_calendar_of_something_that_is_no_job_is_not_there(office) -> None:
    for job in ("x", "1", "0192f0e0", "{}"):
        assert office.post(reverse("feed-new"), {"job": job}).status_code == 404


@pytest.mark.django_db
@pytest.mark.parametrize("left_out", [5, "all", {"a": 1}, True])
def test_proposals_left_out_as_no_list_are_told(office, shop, left_out) -> None:
    given = {"studs_mm": 406.4, "left_out": left_out, "house": {}}
    path = reverse("draw-finish", args=[shop.job().id])
    answer = office.post(path, given, content_type="application/json")
    assert (answer.status_code, answer.json()["faults"]) == (
        422,
        ["What is left out must be a list."],
    )


def reads(tree: ast.AST, name: str) -> list[int]:
    """The lines on which an attribute is read outside a class."""
    inside = {
        node for each in ast.walk(tree) if isinstance(each, ast.ClassDef) for node in ast.walk(each)
    }
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and node.attr == name and node not in inside
    ]


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_a_page_reads_a_form_and_tells_its_faults_in_one_way(path) -> None:
    """`valid` gives what was sent or refuses it; what a page tells itself loses what was typed."""
    tree = ast.parse(path.read_text("utf-8"))
    if path.name != "refusals.py":
        for name in ("cleaned_data", "is_valid", "add_error", "non_field_errors"):
            assert not reads(tree, name), f"{path.name} reads {name}; use pages.refusals.valid"
    errors = [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and node.attr in ("error", "warning")
        and isinstance(node.value, ast.Name)
        and node.value.id == "messages"
    ]
    assert not errors, f"{path.name} tells a fault on the next page; use pages.refusals.refuse"

"""The house of a job as a workbook: down, and up again as the next revision."""

import json
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from config.messages.kept import in_english
from inspections.checker.load import HouseFaults, load_house
from inspections.checker.workbook import read_house
from inspections.models import Outcome
from inspections.selectors import latest_revision
from inspections.services.houses import house_record
from inspections.services.observations import items_observe
from tests.sure import sure
from tests.workbook.malformed import MALFORMED

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.mark.parametrize("form", ["xlsx", "zip"])
def test_the_house_goes_down_and_up_and_nothing_changes(client, shop, job, form) -> None:
    client.force_login(shop.office)
    answer = client.get(reverse("house-file", args=[job.id, form]))
    first = sure(latest_revision(job))
    assert f"-{first.number}.{form}" in answer.headers["Content-Disposition"]
    assert read_house(answer.content) == load_house(first.house.encode())
    before = list(job.items.order_by("position").values("rule", "subject", "fingerprint"))
    house_record(shop.office, job=job, house=answer.content)
    second = sure(latest_revision(job))
    assert second.number == first.number + 1
    assert load_house(second.house.encode()) == load_house(first.house.encode())
    assert list(job.items.order_by("position").values("rule", "subject", "fingerprint")) == before


def test_a_bad_workbook_writes_nothing(shop, job) -> None:
    before = job.revisions.count()
    for name in ("a word for a length", "a bomb", "cut in half"):
        with pytest.raises(HouseFaults):
            house_record(shop.office, job=job, house=MALFORMED[name][0]())
    assert job.revisions.count() == before


def test_nobody_else_gets_the_file_and_no_other_form_is_there(
    client, shop, stranger_shop, job
) -> None:
    address = reverse("house-file", args=[job.id, "xlsx"])
    client.force_login(stranger_shop.office)
    assert client.get(address).status_code == 404
    client.force_login(shop.office)
    assert client.get(reverse("house-file", args=[job.id, "exe"])).status_code == 404
    assert client.post(address).status_code == 405


def send(client, job, name: str, raw: bytes, **given):
    """What the page answers to a file."""
    file = SimpleUploadedFile(name, raw)
    return client.post(reverse("house-upload", args=[job.id]), {"house": file, **given})


def test_a_workbook_that_is_sent_becomes_the_next_revision(client, shop, job) -> None:
    client.force_login(shop.office)
    page = client.get(reverse("house-upload", args=[job.id]))
    assert reverse("house-file", args=[job.id, "xlsx"]) in page.text
    before = job.revisions.count()
    raw = client.get(reverse("house-file", args=[job.id, "xlsx"])).content
    shown = send(client, job, "h.xlsx", raw, why="moved a box")
    assert "No part of the house changes." in shown.text
    assert job.revisions.count() == before
    assert confirm(client, shown).status_code == 302
    assert (job.revisions.count(), sure(latest_revision(job)).why) == (before + 1, "moved a box")


def confirm(client, shown):
    """Press the button under what would change."""
    preview, given = shown.context["preview"], shown.context["given"]
    sent = {"text": preview.text, "base": preview.base, **given}
    return client.post(shown.request["PATH_INFO"], sent)


def moved(job, by: float) -> tuple[bytes, dict[str, Any]]:
    """The latest house with its first receptacle on a wall moved along it, and that box."""
    house = json.loads(sure(latest_revision(job)).house)
    box = next(b for b in house["boxes"] if b["place"]["surface"] == "wall" and b.get("devices"))
    box["place"]["at_mm"] += by
    return json.dumps(house).encode(), box


def test_what_would_change_is_told_before_anything_is_recorded(client, shop, job) -> None:
    looked = job.items.filter(verdict="verify")
    items_observe(shop.lead, items=list(looked.select_related("job__shop")), outcome=Outcome.OK)
    raw, box = moved(job, 10)
    client.force_login(shop.lead)
    shown = send(client, job, "h.json", raw)
    preview = shown.context["preview"]
    (change,) = preview.changes
    assert (change.how, change.part) == ("changed", f"box {box['id']}")
    at = box["place"]["at_mm"]
    assert change.fields == (f"place at mm: {at - 10:g} to {at:g}",)
    assert f"box {box['id']}" in shown.text
    assert job.revisions.count() == 1
    assert confirm(client, shown).status_code == 302
    now = {item: item.observations.get() for item in job.items.filter(observations__isnull=False)}
    opened = [item for item, seen in now.items() if seen.fingerprint != item.fingerprint]
    assert opened
    assert len(opened) == len(preview.opened) < len(now)
    assert {in_english(item.finding["title"]) for item in opened} == {
        o.split(":")[0] for o in preview.opened
    }


def test_whoever_was_overtaken_sees_what_changes_against_the_other(client, shop, job) -> None:
    client.force_login(shop.lead)
    shown = send(client, job, "h.json", moved(job, 10)[0])
    house_record(shop.office, job=job, house=moved(job, 25)[0])
    again = confirm(client, shown)
    assert again.status_code == 422
    assert "Revision 2 was recorded meanwhile" in again.text
    assert again.context["preview"].base == 2
    assert again.context["preview"].changes
    assert job.revisions.count() == 2
    assert confirm(client, again).status_code == 302
    assert job.revisions.count() == 3
    bad = client.post(reverse("house-upload", args=[job.id]), {"text": "{}", "base": "x"})
    assert bad.status_code == 422


def test_the_page_names_every_fault_and_records_nothing(client, shop, stranger_shop, job) -> None:
    client.force_login(shop.office)
    before = job.revisions.count()
    answer = send(client, job, "h.xlsx", MALFORMED["a word for a length"][0]())
    assert answer.status_code == 422
    assert "Walls row 2, length (mm) (C2): must be a length such as" in answer.text
    assert send(client, job, "h.json", b"\xff\xfe").status_code == 422
    assert client.post(reverse("house-upload", args=[job.id])).status_code == 422
    assert job.revisions.count() == before
    client.force_login(stranger_shop.office)
    assert send(client, job, "h.json", b"{}").status_code == 404

"""N/A on every face: offered where it settles something, refused without why, never as OK."""

from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from inspections.models import Item, Observation, Outcome
from inspections.papers.documents import job_checklist_pdf
from inspections.selectors import checklist, latest_revision, room_names
from inspections.services.observations import item_observe
from jobs.models import Job
from pages.jobs.layout import by_room
from pages.jobs.room_rows import item_address
from tests.inspections.tiny import HOUSES
from tests.sheets.test_checklist_sheet import pages, squeezed
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db
WHY = "no dishwasher in this house"
BUTTON = '<button name="outcome" value="na">N/A</button>'
NO_MEASURE = {"measure_min_mm": None, "measure_max_mm": None}


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def item(job: Job) -> Item:
    found = job.items.filter(verdict="verify", stage="rough-in", **NO_MEASURE)
    return the_first(found.order_by("position"))


def page_of(client, item: Item):
    return client.get(reverse("item", args=[item.id])).text


def test_a_page_offers_it_where_eyes_settle_and_nowhere_else(client, shop, job, item) -> None:
    client.force_login(shop.member)
    assert BUTTON in page_of(client, item)
    measured = job.items.filter(verdict="verify", measure_min_mm__gt=0).first()
    assert BUTTON not in page_of(client, measured)
    design = job.items.filter(verdict="ok", workmanship=False).first()
    assert BUTTON not in page_of(client, design)
    shop.shop.photo_rules = [item.rule]
    shop.shop.save()
    assert BUTTON not in page_of(client, item)


def test_a_page_takes_it_with_why_and_shows_it_apart(client, shop, job, item) -> None:
    client.force_login(shop.member)
    address = reverse("observe", args=[item.id])
    answer = client.post(address, {"outcome": "na", "note": "-"})
    assert answer.status_code == 422
    assert "Write why this check does not apply here" in answer.text
    assert not shop.own(Observation).exists()
    client.post(address, {"outcome": "na", "note": WHY, "shown": item.fingerprint})
    page = page_of(client, item)
    assert f"N/A: {WHY}, Member Tester, " in page
    assert "OK on site" not in page
    page = client.get(item_address(item)).text
    assert "1 N/A" in page
    assert "1 OK on site" not in page


def test_a_room_counts_it_by_itself(shop, job, item) -> None:
    def counts() -> list[tuple[int, int, int]]:
        lines = checklist(job, stage=Item.Stage.ROUGH_IN)
        rooms = by_room(lines, room_names(latest_revision(job)), [])
        return [(each.on_site, each.not_applicable, each.on_plan) for each in rooms]

    before = counts()
    item_observe(shop.lead, item=item, outcome=Outcome.NA, note=WHY)
    after = counts()
    assert sum(each[1] for each in before) == 0
    assert [each[0::2] for each in after] == [each[0::2] for each in before]
    assert sum(each[1] for each in after) == 1


def test_the_api_takes_it_with_why_and_says_it(client, shop, job, item) -> None:
    client.force_login(shop.lead)
    address = f"/api/items/{item.id}/observations"
    given: dict[str, Any] = {"outcome": "na"}
    answer = client.post(address, given, content_type="application/json")
    assert answer.status_code == 422
    assert [each["pointer"] for each in answer.json()["errors"]] == ["#/note"]
    answer = client.post(address, given | {"note": WHY}, content_type="application/json")
    assert answer.status_code == 201
    found = client.get(f"/api/jobs/{job.id}/items").json()["results"]
    (line,) = [each for each in found if each["id"] == str(item.id)]
    assert (line["standing"], line["latest"]["outcome"]) == ("ok", "na")
    assert line["latest"]["note"] == WHY
    measured = sure(job.items.filter(verdict="verify", measure_min_mm__gt=0).first())
    address = f"/api/items/{measured.id}/observations"
    answer = client.post(address, given | {"note": WHY}, content_type="application/json")
    assert answer.status_code == 409
    assert "requires a measurement" in answer.json()["detail"]


def test_a_phone_is_told_which_it_may_answer_so_and_what_it_sends_is_kept(
    client, shop, job, item
) -> None:
    client.force_login(shop.member)
    kept = client.get(reverse("walk-data", args=[job.id])).json()
    shown = {each["id"]: each for room in kept["rooms"] for each in room["items"]}
    measured = sure(job.items.filter(verdict="verify", measure_min_mm__gt=0).first())
    assert (shown[str(item.id)]["na"], shown[str(measured.id)]["na"]) == (True, False)
    now = timezone.now()
    made = (now - timedelta(minutes=5)).isoformat()
    tick = {"id": str(uuid4()), "item": str(item.id), "outcome": "na", "note": WHY}
    tick |= {"fingerprint": item.fingerprint, "made_at": made, "known_at": made}
    sent = {"phone_now": now.isoformat(), "ticks": [tick, tick | {"id": str(uuid4()), "note": ""}]}
    answer = client.post(reverse("walk-sync", args=[job.id]), sent, content_type="application/json")
    states = [each["state"] for each in answer.json()["taken"]]
    assert states == ["kept", "refused"]
    look = shop.own(Observation).get()
    assert (look.outcome, look.note) == ("na", WHY)


def test_the_sheet_marks_it_with_why_and_who_and_counts_it_apart(shop, job, item) -> None:
    revision = sure(latest_revision(job))
    before = "".join(pages(job_checklist_pdf(job, revision)))
    assert "N/A" not in before
    item_observe(shop.lead, item=item, outcome=Outcome.NA, note=WHY)
    drawn = job.items.filter(verdict="ok", workmanship=True, **NO_MEASURE).exclude(area=item.area)
    item_observe(shop.lead, item=the_first(drawn), outcome=Outcome.NA, note="no such box")
    text = "".join(pages(job_checklist_pdf(job, revision)))
    for reason in (WHY, "no such box"):
        assert squeezed(f"N/A: {reason}, Lead Tester, ") in text
    assert squeezed("0 OK on site confirmed on site 2 N/A does not apply here") in text
    assert text.count(squeezed("OK on site: 0. N/A: 1. OK on plan only: ")) == 2
    assert squeezed("Seen: N/A") not in text

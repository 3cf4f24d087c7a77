"""The page of a job's record."""

import re
from pathlib import Path
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from inspections.models import Outcome
from inspections.services.walks import Walked, walk_record
from tests.inspections.tiny import HOUSES

TEMPLATES = Path(__file__).resolve().parents[3] / "templates"


@pytest.mark.django_db
def test_a_walk_is_on_the_page_of_the_record(client, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    item, now = job.items.filter(verdict="verify").first(), timezone.now()
    tick = Walked(uuid4(), item.id, Outcome.FIX, item.fingerprint, now, now)
    walk_record(shop.lead, job=job, ticks=[tick], phone_now=now)
    client.force_login(shop.lead)
    page = client.get(reverse("record", args=[job.id])).text
    assert f"{item}: fix" in page


@pytest.mark.parametrize("path", sorted(TEMPLATES.rglob("*.html")), ids=lambda path: path.name)
def test_no_template_asks_a_mapping_for_what_may_be_a_name_in_it(path: Path) -> None:
    assert not re.search(r"\.(items|keys|values)\b", path.read_text("utf-8"))

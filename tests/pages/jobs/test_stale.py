"""Pages that were loaded before something changed, forms that come twice, odd scripts."""

import re

import pytest
from django.urls import reverse
from rest_framework.test import APIClient

from inspections.models import Observation, Outcome
from inspections.services.houses import house_record
from inspections.services.observations import FactsChanged, item_observe
from tests.inspections.houses import with_length
from tests.inspections.test_photographs import RULE
from tests.sure import sure

pytestmark = pytest.mark.django_db
RIGHT_TO_LEFT = "15 شارع الصنوبر, بيت"


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def item(job):
    """An item about a cable whose length a later revision changes."""
    return job.items.get(rule=RULE, subject="D7")


def form_of(page: str, item) -> dict[str, str]:
    """What the form of an item sends, as the page has it."""
    part = page.split(reverse("observe", args=[item.id]))[1]
    shown = sure(re.search(r'name="shown" value="([0-9a-f]{16})"', part)).group(1)
    return {"shown": shown, "outcome": "ok"}


def test_a_tick_from_a_page_of_an_older_house_is_refused(
    client, shop, job, item, house_bytes
) -> None:
    client.force_login(shop.member)
    form = form_of(client.get(reverse("item", args=[item.id])).text, item)
    house_record(shop.lead, job=job, house=with_length(house_bytes, "D7", 1_234))
    answer = client.post(reverse("observe", args=[item.id]), form, follow=True)
    assert "the house has changed since this was shown" in answer.text
    assert not shop.own(Observation).exists()
    form = form_of(answer.text, item)
    client.post(reverse("observe", args=[item.id]), form)
    assert shop.own(Observation).get().fingerprint == form["shown"]


def test_a_program_that_says_what_it_looked_at_is_told_so_too(shop, job, item) -> None:
    api = APIClient()
    api.force_authenticate(shop.member)
    address = f"/api/items/{item.id}/observations"
    sent = {"outcome": "ok", "fingerprint": "0" * 16}
    assert api.post(address, sent, format="json").status_code == 409
    sent["fingerprint"] = item.fingerprint
    assert api.post(address, sent, format="json").status_code == 201
    with pytest.raises(FactsChanged):
        item_observe(shop.member, item=item, outcome=Outcome.OK, fingerprint="f" * 16)


def test_a_form_that_comes_twice_says_the_same_twice(client, shop, job, item) -> None:
    client.force_login(shop.member)
    form = form_of(client.get(reverse("item", args=[item.id])).text, item)
    for _ in range(2):
        client.post(reverse("observe", args=[item.id]), form)
    assert {each.outcome for each in item.observations.all()} == {"ok"}


def test_an_address_in_a_right_to_left_script_is_shown_as_it_is(client, shop, job) -> None:
    job.address = RIGHT_TO_LEFT
    job.save()
    client.force_login(shop.office)
    assert RIGHT_TO_LEFT in client.get(reverse("job", args=[job.id])).text
    assert client.get(reverse("checklist-pdf", args=[job.id])).content.startswith(b"%PDF")

"""One item: in short where it passed, whole when somebody opens it or follows a link to it."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from config.messages.kept import in_english
from inspections.models import Item, Outcome
from inspections.services.observations import item_observe
from jobs.models import Job
from tests.sure import the_first

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def passed(job: Job) -> Item:
    """An item that the figures pass."""
    return the_first(job.items.filter(verdict="ok", stage="rough-in"))


def test_what_passed_is_short_on_the_page_of_the_job(client, shop, job, passed) -> None:
    client.force_login(shop.lead)
    room = passed.finding["room"]
    page = client.get(reverse("job", args=[job.id]), {"room": room}).text
    assert f'hx-get="{reverse("item", args=[passed.id])}"' in page
    assert reverse("observe", args=[passed.id]) not in page


def test_a_line_is_fetched_whole_with_its_working_and_its_forms(client, shop, passed) -> None:
    client.force_login(shop.member)
    part = client.get(reverse("item", args=[passed.id]), headers={"HX-Request": "true"}).text
    assert part.lstrip().startswith('<div class="card-body">')
    assert reverse("observe", args=[passed.id]) in part
    assert escape(in_english(passed.finding["working"][0])) in part
    assert "<html" not in part


def test_an_item_has_a_page_of_its_own(client, shop, job, passed) -> None:
    item_observe(shop.lead, item=passed, outcome=Outcome.FIX, note="not as drawn")
    client.force_login(shop.office)
    page = client.get(reverse("item", args=[passed.id])).text
    assert escape(in_english(passed.finding["says"])) in page
    assert "not as drawn" in page
    assert reverse("job", args=[job.id]) in page


def test_nobody_else_sees_it(client, shop, stranger_shop, passed) -> None:
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(reverse("item", args=[passed.id])).status_code == 404

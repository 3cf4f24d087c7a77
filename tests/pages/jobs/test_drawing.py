"""The plan as a page: for the shop's own people, a storey and a circuit at a time."""

import pytest
from django.urls import reverse

pytestmark = pytest.mark.django_db


def test_the_plan_is_drawn_with_what_is_short_and_a_circuits_runs(
    client, shop, planted_bytes
) -> None:
    job = shop.roughed_in(planted_bytes)
    client.force_login(shop.lead)
    url = reverse("drawing", args=[job.id])
    text = client.get(url).text
    assert 'class="place to-correct not_to_code"' in text
    assert 'class="run"' not in text
    assert 'class="run"' in client.get(url, {"circuit": "range", "storey": "nowhere"}).text


def test_it_is_not_for_builders_nor_for_a_job_without_a_house(
    client, shop, house_bytes, stranger_shop
) -> None:
    job, bare = shop.roughed_in(house_bytes), shop.job("Lot 90")
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(reverse("drawing", args=[job.id])).status_code == 404
    client.force_login(shop.office)
    assert client.get(reverse("drawing", args=[bare.id])).status_code == 404

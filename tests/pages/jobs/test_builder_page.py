"""A builder's page of a job: the signs come first, and nothing is chosen for anybody."""

import pytest
from django.urls import reverse

from inspections.services.insulation import insulation_choose

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def test_the_signs_stand_above_the_choice_of_insulation(client, shop, job) -> None:
    client.force_login(shop.builder)
    page = client.get(reverse("job", args=[job.id])).text
    assert page.index('class="sign hold large"') < page.index("outside walls")


def test_nothing_is_chosen_before_somebody_chose_it(client, shop, job) -> None:
    client.force_login(shop.builder)
    address = reverse("job", args=[job.id])
    form = client.get(address).text.partition("outside walls")[2].partition("</select>")[0]
    assert '<option value="" selected>' in form
    assert form.count("selected") == 1
    answer = client.post(reverse("insulation", args=[job.id]), {"kind": ""})
    assert answer.status_code == 422
    assert not job.insulation_choices.exists()
    insulation_choose(shop.builder, job=job, kind="spray_foam", vapour_barrier=False)
    form = client.get(address).text.partition("outside walls")[2].partition("</select>")[0]
    assert '<option value="spray_foam" selected>' in form
    assert 'value=""' not in form

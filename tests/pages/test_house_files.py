"""The house of a job as a workbook: down, and up again as the next revision."""

import pytest
from django.urls import reverse

from inspections.checker import HouseFaults, load_house
from inspections.checker.workbook import read_house
from inspections.selectors import latest_revision
from inspections.services import house_record
from tests.workbook.malformed import MALFORMED

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.mark.parametrize("form", ["xlsx", "zip"])
def test_the_house_goes_down_and_up_and_nothing_changes(client, shop, job, form) -> None:
    client.force_login(shop.office)
    answer = client.get(reverse("house-file", args=[job.id, form]))
    first = latest_revision(job)
    assert f"-{first.number}.{form}" in answer.headers["Content-Disposition"]
    assert read_house(answer.content) == load_house(first.house.encode())
    before = list(job.items.order_by("position").values("rule", "subject", "fingerprint"))
    house_record(shop.office, job=job, house=answer.content)
    second = latest_revision(job)
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

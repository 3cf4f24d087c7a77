"""A house that is not recorded, through the API: checked, and finished."""

import pytest
from rest_framework.test import APIClient

from inspections.models import HouseRevision
from tests.propose.bare_houses import bare_house

pytestmark = pytest.mark.django_db


@pytest.fixture
def api(shop):
    client = APIClient()
    client.force_authenticate(shop.office)
    return client


def test_a_house_is_checked_and_finished_without_being_recorded(api, shop) -> None:
    job = shop.job()
    given = {"house": bare_house(9), "rulebook": "nec-2023"}
    checked = api.post(f"/api/jobs/{job.id}/trial", given, format="json")
    assert checked.status_code == 200
    assert checked.data["counts"]["not_to_code"] > 0
    done = api.post(f"/api/jobs/{job.id}/proposals", given, format="json")
    assert done.data["not_to_code"] == []
    assert done.data["proposals"][0]["proof"]
    assert shop.own(HouseRevision).count() == 0


def test_without_a_house_the_latest_revision_is_taken(api, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    checked = api.post(f"/api/jobs/{job.id}/trial", {}, format="json")
    assert checked.data["counts"] == api.get(f"/api/jobs/{job.id}/findings").data["counts"]
    bare = shop.job("Lot 16")
    assert api.post(f"/api/jobs/{bare.id}/trial", {}, format="json").status_code == 404


def test_a_bad_house_is_told_with_every_fault(api, shop) -> None:
    job = shop.job()
    answer = api.post(f"/api/jobs/{job.id}/proposals", {"house": {"format": "x"}}, format="json")
    assert answer.status_code == 422
    assert any("format" in each["pointer"] for each in answer.data["errors"])

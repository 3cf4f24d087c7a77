"""The insulation chosen for a job: it decides about boots, and a change of it is a change."""

import json

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from inspections.models import AreaStanding, InsulationChoice
from inspections.services.houses import house_record
from inspections.services.insulation import insulation_choose
from jobs.access import NotAllowed

pytestmark = pytest.mark.django_db
BATTS, FOAM = "batts", "spray_foam"


@pytest.fixture
def bare(house_bytes) -> bytes:
    """The corrected house with no boots, insulated with foam that is the barrier."""
    house = json.loads(house_bytes)
    house["insulation"] = {"kind": "spray_foam", "vapour_barrier": True}
    for box in house["boxes"]:
        if "boot" in box:
            box["boot"] = False
    return json.dumps(house).encode()


@pytest.fixture
def job(shop, bare):
    return shop.roughed_in(bare)


def reasons(job) -> set[str]:
    standings = AreaStanding.objects.filter(area__job=job)
    return {hold["reason"] for standing in standings for hold in standing.holds}


def test_batts_bring_a_hold_and_foam_lifts_it(shop, job) -> None:
    assert "boots" not in reasons(job)
    insulation_choose(shop.builder, job=job, kind=BATTS, vapour_barrier=False)
    assert "boots" in reasons(job)
    assert "fix" not in reasons(job)
    insulation_choose(shop.office, job=job, kind=FOAM, vapour_barrier=True)
    assert "boots" not in reasons(job)


def test_the_choice_counts_before_what_a_later_file_says(shop, job, bare) -> None:
    insulation_choose(shop.office, job=job, kind=BATTS, vapour_barrier=False)
    house_record(shop.lead, job=job, house=bare)
    assert "boots" in reasons(job)


def test_a_changed_choice_withdraws_the_cover_release(shop, job) -> None:
    area = next(a for a in job.areas.all() if a.items.filter(rule="boots").exists())
    cover_release = shop.release(area)
    insulation_choose(shop.builder, job=job, kind=BATTS, vapour_barrier=False)
    cover_release.refresh_from_db()
    assert not cover_release.live
    assert "boot" in cover_release.withdrawn_because


def test_before_a_house_is_recorded_it_is_a_fact_like_any_other(shop) -> None:
    job = shop.job()
    made = insulation_choose(shop.office, job=job, kind=FOAM, vapour_barrier=True)
    assert str(made) == "spray foam, itself the vapour barrier"
    assert job.record.last().detail == {"kind": "spray_foam", "vapour_barrier": True}


def test_what_is_wrong_is_refused(shop, job, stranger_shop) -> None:
    with pytest.raises(ValidationError):
        insulation_choose(shop.office, job=job, kind="straw", vapour_barrier=True)
    for person in (shop.member, stranger_shop.office):
        with pytest.raises(NotAllowed):
            insulation_choose(person, job=job, kind=FOAM, vapour_barrier=True)
    assert not shop.own(InsulationChoice).exists()


def test_the_builder_chooses_on_the_page_and_by_the_api(client, shop, job) -> None:
    client.force_login(shop.builder)
    given = {"kind": "batts"}
    text = client.post(reverse("insulation", args=[job.id]), given, follow=True).text
    assert "batts, no vapour barrier" in text
    url = f"/api/jobs/{job.id}/insulation"
    given = {"kind": "rigid", "vapour_barrier": True}
    assert client.post(url, given, "application/json").status_code == 201
    assert [each["kind"] for each in client.get(url).json()["results"]] == ["batts", "rigid"]
    assert client.post(url, {"kind": "straw"}, "application/json").status_code == 400

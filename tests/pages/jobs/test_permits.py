"""A permit on its job's page: how it stands, extended, and its day corrected."""

from datetime import timedelta
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse

from config.languages import say
from inspections.models import CoverRelease
from inspections.services.permits import permit_apply, permit_correct, permit_extend
from inspections.standing.hold_messages import PERMIT_WAS
from jobs.access import NotAllowed
from jobs.models import Permit
from tests.clocks import house_day
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
JSON = "application/json"


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def expired(shop, job):
    """One that was good to the day before yesterday."""
    day = house_day(-2)
    permit_correct(shop.office, permit=job.permit, expires_on=day, because="as on the paper")
    return day


def page(client: Client, person, job) -> str:
    client.force_login(person)
    return client.get(reverse("job", args=[job.id])).text


def test_an_expired_permit_says_so_and_has_the_form_of_an_extension(
    client, shop, job, expired
) -> None:
    text = page(client, shop.office, job)
    assert f"<b>{say(PERMIT_WAS(day=expired))}</b>" in text
    assert f"valid to {expired}" not in text
    assert reverse("permit-extend", args=[job.id]) in text
    assert reverse("permit-day", args=[job.id]) in text
    assert reverse("permit-extend", args=[job.id]) not in page(client, shop.lead, job)


def test_the_office_extends_it_on_the_page(client, shop, job, expired) -> None:
    client.force_login(shop.office)
    until = house_day(90)
    given = {"expires_on": until, "reference": "X-7"}
    answer = client.post(reverse("permit-extend", args=[job.id]), given)
    assert answer.status_code == 302
    job.permit.refresh_from_db()
    assert job.permit.expires_on == until
    entry = job.record.get(action="permit extended")
    assert entry.detail == {"expires_on": str(until), "reference": "X-7"}
    text = page(client, shop.office, job)
    assert f"valid to {until}" in text
    assert "expired on" not in text


def test_a_mistyped_day_is_corrected_with_its_reason_and_both_stay_on_record(
    client, shop, job
) -> None:
    permit_extend(shop.office, permit=job.permit, expires_on=house_day(4000))
    client.force_login(shop.office)
    given = {"expires_on": house_day(40), "because": "a digit too many"}
    assert client.post(reverse("permit-day", args=[job.id]), given).status_code == 302
    entry = job.record.get(action="permit day corrected")
    assert entry.before == {"expires_on": str(house_day(4000))}
    assert entry.detail == {"expires_on": str(house_day(40)), "because": "a digit too many"}
    given = {"expires_on": "", "because": "it has none"}
    assert client.post(reverse("permit-day", args=[job.id]), given).status_code == 302
    job.permit.refresh_from_db()
    assert job.permit.expires_on is None


def test_a_correction_that_withdraws_a_release_says_so_first(client, shop, job) -> None:
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(area)
    live = CoverRelease.objects.filter(area=area, withdrawn_at=None)
    client.force_login(shop.office)
    given = {"expires_on": house_day(-2), "because": "as on the paper “2”"}
    asked = client.post(reverse("permit-day", args=[job.id]), given)
    assert asked.status_code == 409
    assert "This withdraws the cover release of East" in asked.text
    assert 'value="as on the paper “2”"' in asked.text
    assert live.exists()
    given["confirmed"] = "1"
    assert client.post(reverse("permit-day", args=[job.id]), given).status_code == 302
    assert not live.exists()


def test_what_is_no_correction_is_refused(shop, job) -> None:
    def refused(words: str, permit=job.permit, **given: Any) -> None:
        facts: dict[str, Any] = {"expires_on": house_day(30), "because": "mistyped"} | given
        with pytest.raises(ValidationError, match=words):
            permit_correct(shop.office, permit=permit, **facts)

    refused("Enter why", because=" ")
    refused("already recorded without an expiry date", expires_on=None)
    issued_on = sure(Permit.objects.get(job=job).issued_on)
    refused("Enter an expiry date on or after", expires_on=issued_on - timedelta(days=1))
    waiting = shop.job("Lot 90")
    applied = permit_apply(shop.office, job=waiting, applied_on=issued_on)
    refused("not issued yet", permit=applied)
    with pytest.raises(NotAllowed):
        permit_correct(shop.lead, permit=job.permit, expires_on=house_day(30), because="no")


def test_a_program_extends_and_corrects_it(client, shop, job) -> None:
    client.force_login(shop.office)
    url = f"/api/jobs/{job.id}/permit"
    extended = {"what": "extended", "expires_on": str(house_day(50)), "reference": "X-8"}
    assert client.post(url, extended, JSON).status_code == 201
    corrected = {"what": "corrected", "expires_on": None}
    assert client.post(url, corrected, JSON).status_code == 400
    corrected["because"] = "it has none"
    answer = client.post(url, corrected, JSON)
    assert (answer.status_code, answer.json()["expires_on"]) == (201, None)
    assert client.post(url, extended | {"expires_on": None}, JSON).status_code == 400


def test_a_permit_that_is_applied_for_says_so_once(client, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"], issued=False)
    text = page(client, shop.office, job)
    assert "applied for, applied for" not in text

"""The hookup, the temporary service and the final as they are recorded."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from inspections.services import milestone_record
from inspections.stages import Milestone
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
MAY, JUNE = date(2026, 5, 1), date(2026, 6, 1)


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


def reach(shop, job, milestone, **given):
    given = {"reached_on": MAY, "reference": "C1"} | given
    return milestone_record(shop.office, job=job, milestone=milestone, **given)


def test_a_hookup_carries_its_circuits_and_when_the_temporary_service_goes(shop, job) -> None:
    made = reach(shop, job, Milestone.HOOKUP, circuits=["1", "7"], temporary_until=JUNE)
    assert (made.circuits, made.temporary_until) == (["1", "7"], JUNE)
    with pytest.raises(ValidationError, match="is recorded for the job already"):
        reach(shop, job, Milestone.HOOKUP)


def test_the_final_waits_until_the_temporary_service_is_gone(shop, job) -> None:
    reach(shop, job, Milestone.HOOKUP, temporary_until=JUNE)
    with pytest.raises(ValidationError, match="not recorded as removed"):
        reach(shop, job, Milestone.FINAL)
    reach(shop, job, Milestone.TEMPORARY_GONE)
    assert reach(shop, job, Milestone.FINAL).reference == "C1"


@pytest.mark.parametrize(
    ("milestone", "given", "words"),
    [
        (Milestone.HOOKUP, {"reference": " "}, "reference for the hookup"),
        (Milestone.FINAL, {"reference": ""}, "reference for the final"),
        (Milestone.TEMPORARY_GONE, {"circuits": ["1"]}, "belong to the hookup"),
    ],
)
def test_what_is_wrong_is_refused_and_not_written(shop, job, milestone, given, words) -> None:
    before = job.record.count()
    with pytest.raises(ValidationError, match=words):
        reach(shop, job, milestone, **given)
    assert job.record.count() == before


def test_the_office_records_it_on_the_page(client, shop, job) -> None:
    client.force_login(shop.office)
    given = {"milestone": "hookup", "reached_on": "2026-05-01", "reference": "H1"}
    given |= {"circuits": "1, 7", "temporary_until": "2026-06-01"}
    text = client.post(reverse("milestone", args=[job.id]), given, follow=True).text
    assert "reference H1; live: 1, 7; temporary service to go by 2026-06-01" in text
    text = client.post(reverse("milestone", args=[job.id]), {}, follow=True).text
    assert "This field is required." in text

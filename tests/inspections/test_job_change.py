"""What a job is can be changed; its record keeps what it was."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from inspections.services.jobs import job_change
from jobs.access import NotAllowed

pytestmark = pytest.mark.django_db


def test_a_change_is_recorded_with_what_it_was(shop) -> None:
    job = shop.job()
    before = job.record.count()
    job_change(shop.office, job=job, drywall_on=date(2026, 12, 4), name=job.name)
    entry = job.record.latest("number")
    assert job.record.count() == before + 1
    assert (entry.action, entry.detail) == ("job changed", {"drywall_on": "2026-12-04"})
    assert entry.before == {"drywall_on": None}
    job.refresh_from_db()
    assert job.drywall_on == date(2026, 12, 4)


def test_what_is_as_it_was_makes_no_entry(shop) -> None:
    job = shop.job()
    before = job.record.count()
    job_change(shop.office, job=job, name=job.name, crew_lead=shop.lead)
    assert job.record.count() == before


@pytest.mark.parametrize(
    ("field", "value"),
    [("builder", "firm"), ("authority", "authority"), ("crew_lead", "lead")],
)
def test_another_shop_s_is_refused_and_nothing_is_written(
    shop, stranger_shop, field, value
) -> None:
    job = shop.job()
    before = job.record.count()
    with pytest.raises(ValidationError) as refused:
        job_change(shop.office, job=job, name="else", **{field: getattr(stranger_shop, value)})
    assert field in refused.value.message_dict
    job.refresh_from_db()
    assert job.name == "Lot 15"
    assert job.record.count() == before


def test_a_builder_s_person_leads_no_crew(shop) -> None:
    with pytest.raises(ValidationError):
        job_change(shop.office, job=shop.job(), crew_lead=shop.builder)


def test_only_the_office_changes_it(shop) -> None:
    job = shop.job()
    for person in (shop.lead, shop.builder):
        with pytest.raises(NotAllowed):
            job_change(person, job=job, name="mine")
    with pytest.raises(TypeError, match="shop"):
        job_change(shop.office, job=job, shop=shop.shop)

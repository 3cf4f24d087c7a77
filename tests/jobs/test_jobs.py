"""Shops, people and what each may see."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from jobs.access import NotAllowed, role_in
from jobs.models import Membership, Role
from jobs.selectors import jobs_visible_to
from jobs.services.jobs import job_open
from jobs.services.shops import shop_open

pytestmark = pytest.mark.django_db


def test_the_shops_people_see_its_jobs_and_each_builder_its_own(shop, stranger_shop) -> None:
    job = shop.job()
    assert [job] == list(jobs_visible_to(shop.member)) == list(jobs_visible_to(shop.builder))
    for person in (shop.other_builder, stranger_shop.office, stranger_shop.builder):
        assert list(jobs_visible_to(person)) == []


def test_a_person_may_work_for_two_shops(shop, stranger_shop) -> None:
    Membership.objects.create(shop=stranger_shop.shop, person=shop.builder, role=Role.CREW_MEMBER)
    here, there = shop.job("here"), stranger_shop.job("there")
    assert set(jobs_visible_to(shop.builder)) == {here, there}
    assert role_in(shop.builder, stranger_shop.shop) is Role.CREW_MEMBER


def test_only_the_office_opens_a_job(shop) -> None:
    with pytest.raises(NotAllowed, match="Only the office of"):
        job_open(
            shop.lead,
            shop=shop.shop,
            name="x",
            address="y",
            builder=shop.firm,
            authority=shop.authority,
        )


def test_a_time_zone_that_does_not_exist_is_refused() -> None:
    with pytest.raises(ValidationError, match="not a time zone"):
        shop_open(name="Nowhere", time_zone="Fernhollow/Main")


def test_a_job_stands_in_its_shops_zone_unless_told(shop) -> None:
    assert shop.job().time_zone == "America/Edmonton"


@pytest.mark.parametrize("role", [Role.BUILDER, Role.OFFICE])
def test_a_firm_goes_with_builders_people_and_with_them_alone(shop, role) -> None:
    firm = None if role == Role.BUILDER else shop.firm
    membership = Membership.objects.get(person=shop.member)
    membership.role, membership.builder = role, firm
    with pytest.raises(IntegrityError), transaction.atomic():
        membership.save()


def test_ids_sort_by_age(shop) -> None:
    ids = [shop.job(str(number)).id for number in range(20)]
    assert ids == sorted(ids)

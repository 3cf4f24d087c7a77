"""Whatever takes a number from somebody has a highest; what is kept beyond it is read as that."""

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator
from django.db import models
from django.urls import reverse

from jobs.models import Authority
from jobs.models.fields import CountField
from jobs.services.authorities import authority_change

OURS = {
    "CarriedAnswers.rule_version",
    "AreaStanding.hold_count",
    "AuditRun.differences",
    "AuditRun.jobs",
    "AuditRun.states",
    "AuditedShop.differences",
    "AuditedShop.jobs",
    "AuditedShop.states",
    "SiteChangeAnswer.revision",
    "SiteChange.revision",
    "FactCorrection.base",
    "FactCorrection.revision",
    "DayList.number",
    "Delivery.step",
    "Delivery.tries",
    "Address.position",
    "FeedNumber.number",
    "HouseRevision.number",
    "Item.measure_max_mm",
    "Item.measure_min_mm",
    "Item.position",
    "JobStanding.facts",
    "JobStanding.record_number",
    "JobStanding.settled",
    "JobStanding.tries",
    "Notice.times_given",
    "Pack.done",
    "Pack.parts",
    "Pack.tries",
    "Plan.tries",
    "PlannedWork.end_part",
    "PlannedWork.minutes",
    "PlannedWork.start_part",
    "RecordEntry.number",
    "SecondFactor.last_step",
    "SecondFactor.wrong",
    "StoredAnswer.status",
    "Try.number",
}
"""Numbers that we count or compute ourselves: nobody gives them."""

BY_A_TAPE = {"SiteChange.at_mm", "SiteChange.height_mm", "Observation.measured_mm"}
"""Bounded where they are given, and in words: `checker.measures`, `pages.jobs.walk`."""

NUMBERS = (models.IntegerField, models.FloatField, models.DecimalField)
FAR = 2**31


def numbers():
    """Each column of a number, as model and name."""
    for label in ("jobs", "inspections", "notifications", "api"):
        for model in apps.get_app_config(label).get_models():
            for field in model._meta.get_fields():
                if isinstance(field, NUMBERS) and not isinstance(field, models.AutoField):
                    yield f"{model.__name__}.{field.name}", field


def test_every_number_that_somebody_gives_has_a_highest() -> None:
    free = set()
    for name, field in numbers():
        highest = [each for each in field._validators if isinstance(each, MaxValueValidator)]
        if not highest and getattr(field, "most", None) is None:
            free.add(name)
    assert free == OURS | BY_A_TAPE


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["notice_days", "notice_hours", "idle_days", "elapsed_hours"])
def test_an_authoritys_number_beyond_it_is_refused_with_the_highest(shop, name: str) -> None:
    authority = Authority.objects.get(shop=shop.shop)
    field = Authority._meta.get_field(name)
    assert isinstance(field, CountField)
    most = field.most
    with pytest.raises(ValidationError, match=f"less than or equal to {most}"):
        authority_change(shop.office, authority=authority, **{name: FAR})
    authority_change(shop.office, authority=authority, **{name: most})
    authority.refresh_from_db()
    assert getattr(authority, name) == most


@pytest.mark.django_db
def test_a_number_that_was_kept_before_is_read_as_the_highest(client, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    far = 2**15 - 1  # what either database takes
    kept = {"notice_days": far, "notice_hours": far, "idle_days": far, "elapsed_hours": far}
    Authority.objects.filter(id=job.authority_id).update(**kept)
    assert Authority.objects.get(id=job.authority_id).notice_days == 60
    client.force_login(shop.office)
    for page in ("job", "job-edit"):
        assert client.get(reverse(page, args=[job.id])).status_code == 200
    assert client.get(reverse("authority", args=[job.authority_id])).status_code == 200

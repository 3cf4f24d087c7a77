"""Prepared queries: the same answers as the query sets that they are made of, compiled once."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.contrib.auth.models import Group
from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.db.models import F, Max
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inspections.conclusions.job_facts import _FINISH, _ROUGH_IN
from inspections.models import JobStanding, Observation
from inspections.services import item_observe
from jobs.models import Area, Job, Membership, Permit, Person, Shop
from jobs.prepared import Prepared, PreparedInsert, PreparedUpdate
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db


def test_it_finds_what_its_query_finds_with_any_values(shop) -> None:
    prepared: Prepared[Job] = Prepared(
        lambda jobs: Job.objects.filter(id__in=jobs).select_related("shop", "permit", "crew_lead")
    )
    jobs = [shop.job(f"Lot {number}") for number in range(5)]
    for count in (1, 2, 3, 4, 5):
        ids = [job.id for job in jobs[:count]]
        found = sorted(prepared(ids), key=lambda job: job.id)
        assert found == list(prepared.build(ids).order_by("id"))
    with CaptureQueriesContext(connection) as asked:
        assert prepared([]) == []
        assert {job.shop.name for job in found} == {shop.shop.name}
        assert not any(hasattr(job, "permit") for job in found)
    assert len(asked) == 0
    assert len(prepared._plans) == 4  # for 1, 2, 4 and 8 values
    assert prepared([uuid4()]) == []


def test_values_dates_texts_and_aggregates_come_as_python_knows_them(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    seen: Prepared[tuple] = Prepared(
        lambda item, since, outcome: (
            Observation.objects.filter(item=item, recorded_at__gt=since, outcome=outcome)
            .order_by()
            .values_list("item")
            .annotate(Max("recorded_at"))
        )
    )
    item, now = job.items.filter(verdict="look").first(), timezone.now()
    made = item_observe(shop.lead, item=item, outcome="pass")
    assert seen(item.id, now, "pass") == [(item.id, made.recorded_at)]
    assert seen(item.id, now, "fail") == []
    assert seen(item.id, now + timedelta(hours=1), "pass") == []
    issued: Prepared[Permit] = Prepared(
        lambda day, shop: Permit.objects.filter(issued_on__lte=day, job__shop=shop).annotate(
            house=F("job__name")
        )
    )
    of = shop.shop.id
    kept = Permit.objects.get(job=job)
    assert [(each, each.house) for each in issued(kept.issued_on, of)] == [(kept, job.name)]
    assert issued(kept.issued_on - timedelta(days=1), of) == []


@pytest.mark.parametrize(("prepared", "of"), [(_ROUGH_IN, "areas"), (_FINISH, "itself")])
def test_looks_at_items_are_found_as_the_query_set_finds_them(shop, prepared, of) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    for item in job.items.filter(verdict="look")[:4]:
        item_observe(shop.lead, item=item, outcome="fail")
    ids = [area.id for area in job.areas.all()] if of == "areas" else [job.id]
    assert prepared(ids) == list(prepared.build(ids))


def test_rows_compare_equal_until_one_of_them_changes(shop) -> None:
    job = shop.job("Lot 1")
    prepared: Prepared[Job] = Prepared(lambda job: Job.objects.filter(id=job))
    before = prepared.raw(job.id)
    assert prepared.raw(job.id) == before
    assert hash(prepared.raw(job.id)) == hash(before)
    Job.objects.filter(id=job.id).update(address="elsewhere")
    assert prepared.raw(job.id) != before
    assert prepared.made(before)[0].address == job.address


def test_what_cannot_be_prepared_is_refused(shop) -> None:
    job = shop.job("Lot 1").id
    with pytest.raises(ValueError, match="not in the query"):
        Prepared(lambda _job: Job.objects.all())(job)
    with pytest.raises(TypeError, match="prefetch"):
        Prepared(lambda job: Job.objects.filter(id=job).prefetch_related("areas"))(job)
    with pytest.raises(TypeError, match="list of values"):
        Prepared(lambda job: Job.objects.filter(id=job).values("id"))(job)
    by_id: Prepared[Job] = Prepared(lambda job: Job.objects.filter(id=job))
    assert by_id(job)
    with pytest.raises(ValidationError):
        by_id(str(job))
    with pytest.raises(TypeError, match="NoneType"):
        by_id(None)
    with pytest.raises(TypeError, match="bool"):
        Prepared(lambda yes: JobStanding.objects.filter(job__isnull=yes))(True)


@pytest.mark.django_db(transaction=True)
def test_rows_are_locked_within_a_transaction_alone(shop) -> None:
    job = shop.job("Lot 1")
    prepared: Prepared[Job] = Prepared(
        lambda job: Job.objects.filter(id=job).select_for_update(no_key=True)
    )
    with transaction.atomic():
        assert prepared(job.id) == [job]
    with pytest.raises(transaction.TransactionManagementError):
        prepared(job.id)


def test_rows_are_written_column_by_column(shop) -> None:
    jobs = [shop.job(f"Lot {number}") for number in range(3)]
    standings = list(shop.own(JobStanding).order_by("job"))
    moment = timezone.now()
    for number, standing in enumerate(standings):
        standing.stage, standing.next_at, standing.facts = f"stage {number}", moment, 7
    standings[2].next_at = None
    write = PreparedUpdate(JobStanding, "job_id", ("stage", "next_at"))
    write(standings[:1])
    write(standings)
    write([])
    kept = list(
        shop.own(JobStanding).order_by("job").values_list("job", "stage", "next_at", "facts")
    )
    assert [row[0] for row in kept] == sorted(job.id for job in jobs)
    assert [row[1:3] for row in kept] == [
        ("stage 0", moment),
        ("stage 1", moment),
        ("stage 2", None),
    ]
    assert {row[3] for row in kept} == {0}  # a column that was not named


def test_a_row_is_inserted_whole(shop) -> None:
    job = shop.job("Lot 1")
    area = Area(job=job, code="loft", name="Loft")
    PreparedInsert(Area)(area)
    assert Area.objects.filter(job=job).get() == area
    other = Shop(name="Other", time_zone="America/Edmonton", trades=["plumbing"])
    PreparedInsert(Shop)(other)
    assert Shop.objects.get(id=other.id).trades == ["plumbing"]


def test_a_person_is_found_by_key_and_a_group_finds_its_own_alone(shop) -> None:
    assert Person.objects.get(pk=shop.office.id) == shop.office
    with pytest.raises(Person.DoesNotExist):
        Person.objects.get(pk=uuid4())
    group = Group.objects.create(name="empty")
    with pytest.raises(Person.DoesNotExist):
        group.user_set.get(pk=shop.office.id)
    assert Membership.objects.filter(person=Person.objects.get(pk=shop.lead.id)).exists()

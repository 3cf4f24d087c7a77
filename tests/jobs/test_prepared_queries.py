"""Prepared queries: the same answers as the query sets that they are made of, compiled once."""

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import cache
from random import Random
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.apps import apps
from django.contrib.sessions.models import Session
from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.db.models import Field, Model, QuerySet
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

import api
import audit
import config
import inspections
import jobs
import notifications
import pages
from inspections.models import Inspection, Item, JobStanding, Observation
from jobs.models import Area, Authority, Job, Membership, Person, Shop
from jobs.prepared_queries import Prepared, PreparedUpdate
from tests import random_rows

pytestmark = pytest.mark.django_db

FLOORS = (api, audit, config, inspections, jobs, notifications, pages)
DAY = date(2026, 1, 1)

FACTS = "inspections.conclusions.job_facts"
ASKED_WITH: dict[str, tuple[Any, ...]] = {
    f"{FACTS}._ACCEPTANCES": (Area,),
    f"{FACTS}._AREAS": (Job,),
    f"{FACTS}._AUTHORITIES": (Authority,),
    f"{FACTS}._COVER_RELEASES": (Area,),
    f"{FACTS}._DEFICIENCIES": (Area,),
    f"{FACTS}._FINISH": (Job,),
    f"{FACTS}._HELD": (Job,),
    f"{FACTS}._JOBS": (Job,),
    f"{FACTS}._LEADS": (Person,),
    f"{FACTS}._MILESTONES": (Job,),
    f"{FACTS}._PERMITS": (Job,),
    f"{FACTS}._REVISIONS": (Job,),
    f"{FACTS}._ROUGH_IN": (Area,),
    f"{FACTS}._SHOPS": (Shop,),
    f"{FACTS}._STANDINGS": (Area,),
    f"{FACTS}._TRADES": (Job,),
    "inspections.services.facts._AREAS_OF": (Job,),
    "inspections.services.facts._STANDINGS": (Job,),
    "notifications.facts._EVENTS": (Inspection,),
    "notifications.facts._PEOPLE": (Shop,),
    "notifications.facts._PLACES": (Inspection,),
    "notifications.facts._RULES": (Shop,),
    "notifications.facts._SEEN": (Area,),
    "notifications.facts._INSPECTIONS": (Job,),
    "notifications.services.lists._AHEAD": (Shop, DAY),
    "notifications.services.notices._OF_JOBS": (Job,),
}
"""Each prepared query, and of what it is given ids, or near which day it is asked."""

OF_ONE_ROW: dict[str, tuple[type[Model], *tuple[str | list[str], ...]]] = {
    "config.sessions._KEPT": (Session, "session_key"),
    "inspections.selectors._JOB": (Job, "shop__memberships__person", "id"),
    "inspections.services.facts._SOME_OF": (Area, "job", ["id"]),
    "inspections.services.observations._LOOKS": (Observation, "item", "fingerprint"),
    "inspections.services.walks._HAD": (Observation, "item__job", ["id"]),
    "inspections.services.walks._ITEMS": (Item, "job", ["id"]),
    "jobs.access._ROLE": (Membership, "person", "shop"),
}
"""Those that are given values which stand together in a row, and in which columns; in brackets: of
which column several are given."""

UPDATES = {"inspections.services.facts._COUNTED", "inspections.services.settling._KEEP"}

TABLES = [
    "jobs.Shop",
    "jobs.Builder",
    "jobs.Authority",
    "jobs.Person",
    "jobs.Membership",
    "jobs.Job",
    "jobs.Area",
    "jobs.Permit",
    "jobs.Plan",
    "jobs.Crew",
    "jobs.DayList",
    "inspections.JobStanding",
    "inspections.AreaStanding",
    "inspections.Inspection",
    "inspections.InspectionEvent",
    "inspections.Inspection_areas",
    "inspections.JobAnswer",
    "inspections.HouseRevision",
    "inspections.MilestoneReached",
    "inspections.Acceptance",
    "inspections.CoverRelease",
    "inspections.WithdrawalAnswer",
    "inspections.Deficiency",
    "inspections.TradeReport",
    "inspections.Item",
    "inspections.Observation",
    "notifications.NoticeRules",
    "notifications.Notice",
    "sessions.Session",
]


@cache
def prepared_of_project() -> dict[str, Any]:
    """Every prepared query of the project by its name."""
    found: dict[str, Any] = {}
    for floor in FLOORS:
        for each in pkgutil.walk_packages(floor.__path__, f"{floor.__name__}."):
            module = importlib.import_module(each.name)
            for name, value in vars(module).items():
                if isinstance(value, Prepared | PreparedUpdate):
                    found[f"{each.name}.{name}"] = value
    return found


def fill(chance: Random) -> None:
    """Several rows of each table that a settling reads."""
    for name in TABLES:
        random_rows.add(apps.get_model(name), chance.randint(4, 12), chance)


def some_ids(model: type[Model], chance: Random) -> Any:
    """Ids in any of the shapes that callers have: some are there, some are nowhere."""
    there = sorted(model._default_manager.values_list("pk", flat=True))
    ids = chance.choices(there, k=chance.randint(0, 9))
    ids += [UUID(int=chance.getrandbits(128), version=4)] * chance.randint(0, 1)
    shapes: list[Callable[[list[Any]], Any]] = [list, tuple, set, dict.fromkeys]
    return chance.choice(shapes)(ids)


def arguments(asked_with: tuple[Any, ...], chance: Random) -> Iterator[Any]:
    for one in asked_with:
        if isinstance(one, date):
            yield one + timedelta(days=chance.randint(-900, 900))
        else:
            yield some_ids(one, chance)


def of_one_row(asked_with: tuple[Any, ...], chance: Random) -> Iterator[Any]:
    """Values that stand in one row, now and then one of another; among several more of any row."""
    model, *columns = asked_with
    names = [*map("".join, columns)]
    rows = sorted(model._default_manager.exclude(**{names[0]: None}).values_list(*names))
    row = chance.choice(rows)
    for place, column in enumerate(columns):
        value = row[place]
        if chance.random() < 0.1:
            value = chance.choice(rows)[place]
        if isinstance(column, str):
            yield value
        else:
            others = chance.choices(rows, k=chance.randint(0, 6))
            yield [value, *(other[place] for other in others)]


def told(one: Any, seen: tuple[int, ...] = ()) -> Any:
    """All that a row holds, with whatever was read along with it."""
    if not isinstance(one, Model):
        return [(type(each), each) for each in one] if isinstance(one, tuple) else one
    if id(one) in seen:
        return one.pk
    state = one._state
    columns = {name: value for name, value in vars(one).items() if name != "_state"}
    along = {name: told(other, (*seen, id(one))) for name, other in state.fields_cache.items()}
    return [type(one), state.db, state.adding, columns, along]


def compare(prepared: Prepared[Any], given: list[Any]) -> bool:
    """Ask both ways; whether anything was found."""
    plain: QuerySet[Any, Any] = prepared.build(*given)
    found, expected = [told(each) for each in prepared(*given)], [told(each) for each in plain]
    if not plain.ordered:
        found, expected = sorted(found, key=repr), sorted(expected, key=repr)
    assert found == expected
    return bool(found)


def table(model: type[Model]) -> list[Any]:
    return [told(each) for each in model._default_manager.order_by("pk")]


def compare_update(update: PreparedUpdate, chance: Random) -> None:
    """Write the same both ways: the whole table is the same after each."""
    model, (*names, _key) = update.model, update.names
    rows: list[Any] = list(model._default_manager.order_by("pk"))
    for row in rows:
        for name in names:
            column = model._meta.get_field(name)
            assert isinstance(column, Field)
            setattr(row, column.attname, random_rows.value(column, chance))
        row.facts, row.settled = max(row.facts, row.settled), min(row.facts, row.settled)
    rows = chance.sample(rows, k=chance.randint(0, len(rows)))
    before, after = table(model), []
    for write in (update, lambda rows: model._default_manager.bulk_update(rows, names)):
        with transaction.atomic():
            write(rows)
            after.append(table(model))
            transaction.set_rollback(True)
    assert after[0] == after[1]
    assert (after[0] != before) == bool(rows)


@pytest.mark.alone
def test_each_finds_and_writes_what_its_plain_query_does_over_rows_of_chance(whole) -> None:
    """One that is new has to be named above, and to find something here."""
    project = prepared_of_project()
    assert {*ASKED_WITH, *OF_ONE_ROW, *UPDATES} == set(project)
    used = dict.fromkeys(project, 0)
    for seed in range(40 if whole else 4):
        chance = Random(seed)
        with transaction.atomic():
            fill(chance)
            for name, asked_with in ASKED_WITH.items():
                for _ in range(6):
                    used[name] += compare(project[name], [*arguments(asked_with, chance)])
            for name, asked_with in OF_ONE_ROW.items():
                for _ in range(6):
                    used[name] += compare(project[name], [*of_one_row(asked_with, chance)])
            for name in sorted(UPDATES):
                compare_update(project[name], chance)
                used[name] += 1
            transaction.set_rollback(True)
    assert [name for name, count in used.items() if not count] == []


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
    for value in (None, timezone.now()):
        with pytest.raises(TypeError, match=type(value).__name__):
            by_id(value)
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

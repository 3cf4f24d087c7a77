"""Every conclusion, page and paper survives whatever moment or day a row holds."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.apps import apps
from django.core import signing
from django.db import connection, transaction
from django.db.models import Field, Model
from django.test import Client
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inspections.append_only import release
from inspections.conclusions.areas import areas_holds, today_at
from inspections.days.services import day_lists_send, plan_make
from inspections.models import AreaStanding, InspectionEvent, JobStanding
from inspections.services.settling import due_settle
from inspections.standing.holds import HoldReason
from jobs.models import Absence, CrewPlace, Job, Permit, Plan, Shop
from jobs.models.fields import DayField, MomentField
from notifications.models import NoticeKind, NoticeRules
from notifications.tasks import tick
from tests.clocks import house_day
from tests.days.crewed import EFFORT
from tests.inspections.tiny import HOUSES
from tests.lengths import examples
from tests.matrix import addresses
from tests.sure import sure, the_first
from tests.test_access import clients, ids, on_a_sunday, path_for  # noqa: F401  fixtures among them

pytestmark = [pytest.mark.django_db, pytest.mark.alone]
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
FIRST = datetime(1, 1, 1, tzinfo=UTC)
LAST = datetime(9999, 12, 31, 23, 59, 59, 999999, tzinfo=UTC)
EDGES = {
    "the first moment there is": (FIRST, "America/Edmonton"),
    "the last one": (LAST, "Pacific/Kiritimati"),
    "long ahead": (datetime(2099, 6, 1, 12, tzinfo=UTC), "Asia/Kathmandu"),
    "an hour that clocks skip": (datetime(2026, 3, 8, 9, 30, tzinfo=UTC), "America/Edmonton"),
    "an hour that comes twice": (datetime(2026, 11, 1, 3, 45, tzinfo=UTC), "America/St_Johns"),
    "a day that a place left out": (datetime(2011, 12, 30, 12, tzinfo=UTC), "Pacific/Apia"),
    "the 29th of February": (datetime(2024, 2, 29, 23, 59, tzinfo=UTC), "Europe/Dublin"),
    "before zones were": (datetime(1899, 12, 31, 23, tzinfo=UTC), "Africa/Monrovia"),
}
IN_CI = 2
"""The edges at which everything broke; the others are for whole runs."""
ENDS = ("expires_at", "lease_until", "escalate_at")
"""What ends a link, an invitation or a lease: tried by themselves, since much is gone then."""
PAIRS = ("starts_at", "ends_at", "applied_on", "issued_on", "from_day", "to_day")
"""Of which the database asks that one is after the other: written together."""
EACH: tuple[tuple[type[Model], tuple[str, ...]], ...] = (
    (InspectionEvent, ("starts_at", "ends_at")),
    (Permit, ("applied_on", "issued_on")),
    (CrewPlace, ("from_day", "to_day")),
    (Absence, ("from_day", "to_day")),
)


def columns() -> Iterator[tuple[type[Model], "Field[Any, Any]"]]:
    """Every column of a moment or a day that the project keeps."""
    for name in ("jobs", "inspections", "notifications", "api"):
        for model in apps.get_app_config(name).get_models():
            for field in model._meta.concrete_fields:
                if isinstance(field, MomentField | DayField):
                    yield model, field


def at_zone(zone: str) -> None:
    """Every house and shop by that clock."""
    Job.objects.update(time_zone=zone)
    Shop.objects.update(time_zone=zone)


def everything(moment: datetime) -> None:
    """That moment in every column at once, of each row that has one there."""
    for model, field in columns():
        if field.name not in (*ENDS, *PAIRS):
            put(model, moment, field.name)
    for model, names in EACH:
        put(model, moment, *names)


def put(model: type[Model], moment: datetime, *names: str) -> None:
    """Write it into some columns of every row that has a value in the first of them."""
    values: dict[str, Any] = {}
    for name in names:
        is_moment = isinstance(model._meta.get_field(name), MomentField)
        values[name] = moment if is_moment else moment.date()
    if names[0] == "starts_at":
        late = moment.year == 9999
        values = {"starts_at": moment - HOUR * late, "ends_at": moment + HOUR * (not late)}
    model._default_manager.filter(**{f"{names[0]}__isnull": False}).update(**values)


def concluded(job: Job) -> None:
    """Everything that is drawn without a page: settled, told, planned, listed."""
    JobStanding.objects.filter(job=job).update(settled=0, facts=1)
    due_settle()
    assert JobStanding.objects.filter(job=job, settled=1).exists()
    NoticeRules.objects.update(next_at=None)
    tick()
    asked = Plan.objects.create(
        shop=job.shop,
        asked_by=the_first(job.shop.memberships).person,
        asked_at=timezone.now(),
        first_day=house_day(),
    )
    plan_make(asked.id, EFFORT)
    day_lists_send(None, shop=job.shop, day=house_day())


def broken(clients: dict[str, Client], ids: dict[str, Any], letters: str) -> list[str]:  # noqa: F811
    """Each address that is broken for somebody who may read it."""
    found = []
    for letter in letters:
        clients[letter].raise_request_exception = False
        for name, pattern in addresses():
            if name is None:
                continue
            answer = clients[letter].get(path_for(name, pattern, letter, ids))
            for part in getattr(answer, "streaming_content", ()):
                assert part is not None
            # Where rows say that a sweep is long overdue, that is what `ready` is there to tell.
            if answer.status_code >= 500 and name != "ready":
                found.append(f"{letter} {name}: {answer.status_code}")
    return found


@pytest.fixture
def tried(ids: dict[str, Any]) -> dict[str, Any]:  # noqa: F811
    """A shop in the middle of things, whose record may be rewritten until the test is undone."""
    ids["stop"] = signing.dumps([str(ids["address_id"]), NoticeKind.INSPECTION], salt="notice stop")
    release(connection)
    return ids


def test_whatever_rows_hold_everything_is_drawn(clients, tried, whole) -> None:  # noqa: F811
    """One moment in every column at once; on a whole run in each column by itself as well."""
    job = Job.objects.get(id=tried["job_id"])
    for words, (moment, zone) in list(EDGES.items())[: None if whole else IN_CI]:
        with transaction.atomic():
            at_zone(zone)
            everything(moment)
            assert broken(clients, tried, "o") == [], words
            concluded(job)
            assert broken(clients, tried, "ob" if whole else "b") == [], words
            transaction.set_rollback(True)
    for model, names in [*EACH, *((m, (f.name,)) for m, f in columns())] if whole else ():
        for moment in (FIRST, LAST):
            with transaction.atomic():
                if len(names) == 1 and names[0] in PAIRS:
                    continue
                put(model, moment, *names)
                concluded(job)
                assert broken(clients, tried, "on") == [], (model, names, moment)
                transaction.set_rollback(True)


ZONES = st.sampled_from([zone for _, zone in EDGES.values()])
CHANGES = [
    datetime(2026, 3, 8, 9, tzinfo=UTC),
    datetime(2026, 11, 1, 8, tzinfo=UTC),
    datetime(2026, 3, 29, 1, tzinfo=UTC),
    datetime(2026, 10, 25, 1, tzinfo=UTC),
]
"""When clocks change in Edmonton and in Dublin."""
NEAR = st.timedeltas(-3 * DAY, 3 * DAY)
MOMENTS = st.one_of(
    st.sampled_from([moment for moment, _ in EDGES.values()]),
    st.builds(lambda moment, off: moment + off, st.sampled_from(CHANGES), NEAR),
    st.builds(lambda off: timezone.now() + off, NEAR),
    st.datetimes(timezones=st.just(UTC)),
)


@pytest.fixture
def job(shop) -> Job:
    """A small house with an area that is released and an inspection that is booked."""
    made: Job = shop.roughed_in(HOUSES["clean"])
    shop.release(made.areas.get(code="east"))
    shop.booked(made.areas.get(code="west"), insist=True)
    release(connection)
    return made


@settings(
    examples(12, 600), suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(moments=st.lists(MOMENTS, min_size=1, max_size=4), zone=ZONES, data=st.data())
def test_no_value_stops_the_settling_or_releases_what_it_should_not(
    job, moments, zone, data
) -> None:
    every = [*EACH, *((m, (f.name,)) for m, f in columns() if f.name not in PAIRS)]
    permits = [(Permit, ("applied_on", "issued_on")), (Permit, ("expires_on",))]
    with transaction.atomic():
        Permit.objects.filter(job=job).update(expires_on=date(2040, 1, 1))
        Job.objects.filter(id=job.id).update(drywall_on=date(2026, 12, 24))
        at_zone(zone)
        for number, moment in enumerate(moments):
            columns_now = every if number else permits
            model, names = data.draw(st.sampled_from(columns_now), label="column")
            if model is not JobStanding:
                put(model, moment, *names)
        JobStanding.objects.update(facts=1, settled=0)
        due_settle()
        assert not JobStanding.objects.filter(settled=0).exists()
        tick()
        fresh = Job.objects.select_related("permit", "authority", "shop").get(id=job.id)
        today = today_at(fresh, timezone.now())
        issued, expires = sure(fresh.permit.issued_on), sure(fresh.permit.expires_on)
        ahead = issued > today or expires < today
        areas = list(fresh.areas.select_related("job__permit", "job__authority", "job__shop"))
        for holds in areas_holds(areas, timezone.now()).values():
            reasons = {hold.reason for hold in holds}
            assert not ahead or HoldReason.PERMIT in reasons or fresh.permit.closed_on
        if issued > today:
            assert not AreaStanding.objects.filter(released=True).exists()
        transaction.set_rollback(True)

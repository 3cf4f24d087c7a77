"""The stranger shop itself: in every table, marked all over, quiet at any time, always there."""

from datetime import UTC, datetime
from types import SimpleNamespace
from typing import cast

import pytest
from django.db import models

from api.base import answers_forget
from inspections.days.services import plans_due
from inspections.models import CoverRelease, DeficiencyPhotograph, Pack
from inspections.services.packs import packs_due
from inspections.services.settling import jobs_due
from jobs.models import Area
from notifications.models import Channel, Lane
from notifications.services.escalation import escalations_due
from notifications.services.notices import shops_due
from notifications.services.outbox import BATCH, lanes_due, take
from tests import stranger
from tests.clock import Clock
from tests.conftest import EMPTIED, LONELY, pytest_runtest_setup
from tests.stranger.house import SHARED
from tests.stranger.rows import kinds, rows_of, tables

WITHOUT = {
    "jobs.person_groups": "nothing of the project writes to it",
    "jobs.person_user_permissions": "nothing of the project writes to it",
    "inspections.auditrun": "a night's audit is of the whole server, and a run of no shop",
}
"""Tables that it has no rows in, and why."""
PLAIN = {
    "jobs.area.code": "shared with everybody's areas, on purpose",
    "jobs.plannedwork.task": "holds codes of areas",
    "jobs.plannedwork.kind": "a kind of task",
    "jobs.plannedwork.name": "what the planner calls a task",
    "jobs.person.last_name": "Office, Lead; the first name is marked",
    "inspections.item.measure_what": "the rule's words for what is measured",
    "inspections.acceptance.reference": "one is as a tested shop has it, on purpose",
    "inspections.coverrelease.reference": "the same one",
    "inspections.inspectionevent.reference": "the same one",
}
"""Columns of names and codes that are not marked in every row, and why."""
NO_NAMES = (
    "time_zone", "digest", "fingerprint", "chain", "rests_on", "rule", "rulebook", "limit", "unit",
    "trade", "action", "origin", "stage", "lease", "call", "key", "amendments", "country", "region",
    "paper", "part", "section", "subject", "language", "email", "content_type", "occasion",
    "reason", "fault", "password", "milestone", "record_chain", "verdict", "secret", "units",
    "rules", "limits",
)  # fmt: skip
"""Columns that hold words of the product's own, digests, or what no face shows."""


def test_it_has_a_row_in_every_table() -> None:
    every = {model._meta.label_lower for model in kinds()} - set(WITHOUT)
    assert every - set(tables()) == set(), "make it anew: python -m tests.stranger"


@pytest.mark.parametrize("model", kinds(), ids=lambda model: model._meta.label_lower)
def test_its_names_codes_and_ids_are_marked(model) -> None:
    label = model._meta.label_lower
    if label in WITHOUT:
        assert label not in tables()
        return
    for row in rows_of(label):
        if isinstance(model._meta.pk, models.UUIDField):
            assert stranger.NUMBER in row["id"]
        for name, value in row.items():
            field = model._meta.get_field(name)
            plain = f"{label}.{name}" in PLAIN or name in NO_NAMES or bool(field.choices)
            if isinstance(field, models.CharField | models.TextField) and value and not plain:
                assert stranger.MARK in value.lower(), f"{label}.{name}: {value}"


def test_its_areas_have_codes_that_others_have() -> None:
    codes = {row["code"] for row in rows_of("jobs.area")}
    assert set(SHARED) < codes


@pytest.mark.django_db
@pytest.mark.parametrize("year", [2001, 2026, 2098])
def test_nothing_of_it_is_due_at_any_time(monkeypatch, year) -> None:
    Clock(datetime(year, 3, 16, 18, tzinfo=UTC)).put(monkeypatch)
    assert jobs_due() == shops_due() == escalations_due() == []
    assert lanes_due() == packs_due() == plans_due() == []
    assert answers_forget() == 0
    assert Pack.objects.exists()  # old ones are taken away
    assert take(Lane.ORDINARY, Channel.EMAIL, BATCH) == []


@pytest.mark.django_db
def test_its_house_is_in_the_middle_of_things() -> None:
    """What a query that names no shop would find: areas released, withdrawn, refused, looked at."""
    assert stranger.there()
    live = CoverRelease.objects.filter(withdrawn_at=None)
    assert {each.area.code for each in live} == {"bedroom", "east"}
    withdrawn = CoverRelease.objects.exclude(withdrawn_at=None).select_related("withdrawal_answer")
    assert {each.area.code: each.unanswered for each in withdrawn} == {"all": True, "main": False}
    picture = DeficiencyPhotograph.objects.get()
    assert picture.file.read()


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("_time", [1, 2])
def test_it_comes_back_where_a_test_emptied_the_database(_time) -> None:
    assert stranger.there()
    assert Area.objects.count() == len(rows_of("jobs.area"))


@pytest.mark.alone
@pytest.mark.django_db
def test_a_test_may_be_alone() -> None:
    assert not stranger.there()
    assert not Area.objects.exists()


@pytest.mark.alone
@pytest.mark.django_db(transaction=True)
def test_a_test_that_commits_may_be_alone() -> None:
    assert not stranger.there()


@pytest.mark.parametrize("commits", [True, False])
def test_it_is_left_out_before_there_is_a_database_when_the_first_test_wants_to_be_alone(
    commits,
) -> None:
    marks = {"alone": pytest.mark.alone, "django_db": pytest.mark.django_db(transaction=commits)}
    session = SimpleNamespace(stash=pytest.Stash())
    first = SimpleNamespace(
        session=session,
        fixturenames=[],
        get_closest_marker=lambda name: getattr(marks.get(name), "mark", None),
    )
    pytest_runtest_setup(cast(pytest.Item, first))  # what it asks of an item, and no more
    assert session.stash[LONELY] is commits
    assert session.stash[EMPTIED] is commits  # and it is put in for the next

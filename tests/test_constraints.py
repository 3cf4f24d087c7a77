"""No name of the database reaches a reader: every constraint says in words what is wrong."""

import re
import threading
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, utils
from django.test import Client
from django.urls import reverse

from config.fault_messages import AT_ONCE
from config.faults import said_of, value_of
from config.languages import say
from config.languages.available import LANGUAGES
from inspections.models import Acceptance, CoverRelease, JobStanding
from inspections.services.settling import settled_or_set_aside
from jobs.models import Absence, Crew

APPS = ("jobs", "inspections", "notifications", "api")
DRAWN = {"digest", "token", "key"}
"""Unique fields that are drawn by lot, or that nobody types."""


def our_models() -> Iterator[type[models.Model]]:
    for app in APPS:
        yield from apps.get_app_config(app).get_models()


CONSTRAINTS = [
    pytest.param(model, constraint, id=constraint.name)
    for model in our_models()
    for constraint in model._meta.constraints
]
UNIQUE = [
    pytest.param(field, id=f"{model.__name__}.{field.name}")
    for model in our_models()
    for field in model._meta.concrete_fields
    if field.unique and not field.primary_key and field.name not in DRAWN
]


@pytest.mark.parametrize(("model", "constraint"), CONSTRAINTS)
def test_a_constraint_says_in_each_language_what_is_wrong(model, constraint) -> None:
    words = constraint.get_violation_error_message()
    assert constraint.violation_error_message != constraint.default_violation_error_message
    assert constraint.violation_error_code == constraint.name
    assert_words(words)
    assert constraint.name not in words


@pytest.mark.parametrize("field", UNIQUE)
def test_a_field_that_is_there_once_says_so_in_words(field) -> None:
    words = str(field.error_messages["unique"])
    assert "%(" not in words, "Django's own sentence names the model and the field"
    if not words.startswith("A user with that username"):  # Django says it in each language itself
        assert_words(words)


def assert_words(words: str) -> None:
    assert words.endswith(".")
    assert "_" not in words
    for code, _ in LANGUAGES:
        assert code == "en" or say(words, code) != words, f"{words!r} is not said in {code}"


@pytest.mark.django_db
def test_what_breaks_a_constraint_is_told_in_its_words(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    area = job.areas.get(code="garage")
    shop.release(area)
    given = {name: getattr(shop.own(Acceptance).get(), name) for name in ("area", "inspection")}
    again = Acceptance(**given, reference="R4", basis="inspection")
    assert "This visit has an answer for that area already." in faults_of(again)
    assert "This area is already released for cover." in faults_of(
        CoverRelease(area=area, reference="R3")
    )
    days = {"from_day": date(2026, 3, 9), "to_day": date(2026, 3, 2)}
    away = Absence(shop=shop.shop, person=shop.lead, **days)
    assert faults_of(away) == ["The last day is before the first."]


def faults_of(row: models.Model) -> list[str]:
    with pytest.raises(ValidationError) as refused:
        row.full_clean()
    return refused.value.messages


@pytest.mark.postgresql  # SQLite lets in one writer at a time
@pytest.mark.django_db(transaction=True)
def test_two_who_open_one_crew_at_once_are_told_and_no_name_of_the_database(
    shop, monkeypatch
) -> None:
    """Both looked before either wrote: the database takes the first."""
    both = threading.Barrier(2)
    check = Crew.full_clean

    def wait(crew: Crew, *given: Any, **named: Any) -> None:
        check(crew, *given, **named)
        both.wait(timeout=20)

    def open_crew(answers: list[Any]) -> None:
        from django.db import connection

        client = Client()
        client.force_login(shop.office)
        answers.append(client.post(reverse("crew-open"), {"name": "Crew A"}))
        connection.close()

    monkeypatch.setattr(Crew, "full_clean", wait)
    answers: list[Any] = []
    threads = [threading.Thread(target=open_crew, args=(answers,)) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(answer.status_code for answer in answers) == [302, 409]
    (refused,) = (answer for answer in answers if answer.status_code == 409)
    assert say(AT_ONCE()) in refused.text
    assert "crew_name_once_per_shop" not in refused.text
    assert 'value="Crew A"' in refused.text


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/crews/", "/api/jobs"])
def test_one_that_nobody_caught_is_a_conflict_in_words(shop, monkeypatch, path) -> None:
    def broken(*_: object, **__: object) -> None:
        raise IntegrityError("UNIQUE constraint failed: jobs_crew.name")

    monkeypatch.setattr("pages.office.crews.office_shop", broken)
    monkeypatch.setattr("api.jobs.Jobs.get", broken)
    client = Client(raise_request_exception=False)
    client.force_login(shop.office)
    answer = client.get(path)
    assert answer.status_code == 409
    assert say(AT_ONCE()) in answer.text
    assert "jobs_crew" not in answer.text


KINDS_OF_REFUSAL = [
    kind
    for kind in vars(utils).values()
    if isinstance(kind, type) and issubclass(kind, utils.Error)
]


@pytest.mark.parametrize("kind", KINDS_OF_REFUSAL)
def test_what_a_database_says_in_its_own_words_stays_in_the_log(kind) -> None:
    """Names of constraints and values of rows: OWASP ASVS 5.0, 16.5.1, no detail of our insides."""
    fault = kind('duplicate key breaks "one_wish_per_kind" DETAIL: Key (person)=(0199) is there')
    said = said_of(fault)
    assert "one_wish" not in said
    assert "0199" not in said
    assert said.startswith(f"{kind.__name__}: the database")
    for code, _ in LANGUAGES:
        assert code == "en" or "the database" not in say(value_of(fault), code)
    assert said_of(ValueError("2 is odd")) == "ValueError: 2 is odd"


def test_no_fault_is_kept_for_people_but_by_that_one_function() -> None:
    """Whoever writes a fault into a row or a line writes what `said_of` gives."""
    apart = ("faults.py", "child.py")  # a child says what a library of models said; no database
    root = Path(__file__).resolve().parents[1]
    for folder in ("api", "audit", "config", "inspections", "jobs", "notifications", "pages"):
        for path in (root / folder).rglob("*.py"):
            found = re.search(r"__name__\}: \{(?:fault|error|refused)\}", path.read_text("utf-8"))
            assert found is None or path.name in apart, path


@pytest.mark.django_db
def test_a_job_that_a_constraint_keeps_from_settling_does_not_tell_its_name(
    shop, monkeypatch
) -> None:
    def breaks(*_: object) -> None:
        raise IntegrityError("UNIQUE constraint failed: one_wish_per_kind")

    job = shop.job()
    monkeypatch.setattr("inspections.services.settling.job_settle", breaks)
    assert not settled_or_set_aside(job.id)
    because = JobStanding.objects.get(job=job).set_aside_because
    assert because.startswith("IntegrityError: the database refused")

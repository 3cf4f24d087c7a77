"""`manage.py audit`: what it prints, and with what it exits."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from audit.found import About, state
from inspections.models import JobStanding
from inspections.tasks import settle_due
from tests.inspections.tiny import HOUSES

pytestmark = [pytest.mark.django_db, pytest.mark.alone]


@pytest.fixture
def jobs(shop):
    """Two settled jobs, the second of which says otherwise than its facts."""
    made = [shop.roughed_in(HOUSES["clean"]) for _ in range(2)]
    settle_due()
    JobStanding.objects.filter(job=made[1]).update(stage="final")
    return made


def asked(*words: str) -> tuple[int, list[str], str]:
    """Exit status, the lines printed, and what went to the errors."""
    out, err = StringIO(), StringIO()
    status: int | str | None = 0
    try:
        call_command("audit", *words, stdout=out, stderr=err)
    except SystemExit as end:
        status = end.code
    return int(status or 0), out.getvalue().splitlines(), err.getvalue()


def test_a_difference_is_printed_with_its_job_and_ends_with_1(jobs) -> None:
    status, lines, _ = asked()
    assert status == 1
    assert [line for line in lines if "tables: final; facts: rough-in" in line]
    assert lines[-1].startswith("2 jobs in ")
    assert "1 difference" in lines[-1]


def test_one_job_alone_is_audited_when_it_is_named(jobs) -> None:
    status, lines, _ = asked(str(jobs[0].id))
    assert status == 0
    assert len(lines) == 1
    assert lines[0].startswith("1 job in ")
    assert lines[0].endswith(": 0 differences, 0 states")


def test_a_state_is_explained_and_no_line_comes_twice(jobs, monkeypatch) -> None:
    line = state(About.ITEM, "checked by older rules", "as it was")
    monkeypatch.setattr("audit.management.commands.audit.audit_jobs", lambda _: [line, line])
    status, lines, _ = asked(str(jobs[0].id))
    assert status == 0
    assert len(lines) == 3
    assert "A state is a known condition and not a fault" in lines[1]
    assert lines[2].endswith(": 0 differences, 1 state")


def test_programs_read_an_object_a_line(jobs) -> None:
    status, lines, _ = asked("--json")
    told = [json.loads(line) for line in lines]
    assert status == 1
    assert [line["sort"] for line in told[:-1]] == ["difference"]
    assert (told[-1]["jobs"], told[-1]["differences"]) == (2, 1)


def test_a_job_that_is_not_there_is_said_and_ends_with_2(db) -> None:
    status, lines, said = asked("00000000-0000-4000-8000-000000000000")
    assert (status, lines) == (2, [])
    assert "No job has that id" in said

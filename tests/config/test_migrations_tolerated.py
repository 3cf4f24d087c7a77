"""The check of migrations refuses what the version before would stumble over, and only that."""

import subprocess
import sys
from pathlib import Path

import pytest
from django.db import migrations, models
from django.db.migrations.state import ProjectState

from tests import migrations_tolerated
from tests.migrations_tolerated import faults

ROOT = Path(__file__).resolve().parents[2]

OLD = [
    migrations.CreateModel(
        "Board",
        [
            ("id", models.BigAutoField(primary_key=True)),
            ("name", models.CharField(max_length=20)),
            ("note", models.CharField(max_length=20, null=True)),
        ],
    )
]
HELD = models.CheckConstraint(condition=~models.Q(name=""), name="has_a_name")
ONCE = models.UniqueConstraint(fields=["name"], name="once")


def judged(*given) -> list[str]:
    """The faults of a migration of these operations on the old tables."""
    state = ProjectState()
    for operation in OLD:
        operation.state_forwards("tests", state)

    class Next(migrations.Migration):
        operations = list(given)

    return faults(Next("0002_next", "tests"), state)


@pytest.mark.parametrize(
    ("operation", "fault"),
    [
        (migrations.RemoveField("Board", "note"), "DROPPING columns (tests_board.note)"),
        (migrations.DeleteModel("Board"), "DROPPING table"),
        (migrations.RenameField("Board", "note", "words"), "RENAMING columns"),
        (migrations.RenameModel("Board", "Sheet"), "RENAMING tables"),
        (migrations.AddField("Board", "wide", models.CharField(max_length=20)), "NOT NULL"),
        (migrations.AddField("Board", "wide", models.IntegerField(default=4)), "NOT NULL"),
        (migrations.AlterField("Board", "note", models.CharField(max_length=20)), "NOT NULL"),
        (migrations.AlterField("Board", "name", models.IntegerField()), "ALTERING columns"),
        (migrations.AddConstraint("Board", ONCE), "ADDING unique constraint"),
        (migrations.AddConstraint("Board", HELD), "ADDING a check"),
    ],
)
def test_what_old_code_would_stumble_over_is_refused(operation, fault: str) -> None:
    assert any(each.startswith(fault) for each in judged(operation)), judged(operation)


@pytest.mark.parametrize(
    "operations",
    [
        [migrations.AddField("Board", "wide", models.PositiveIntegerField(null=True))],
        [migrations.AddField("Board", "wide", models.IntegerField(db_default=4))],
        [migrations.AddField("Board", "up", models.DateField(null=True, db_index=True))],
        [migrations.CreateModel("Sheet", [("id", models.BigAutoField(primary_key=True))])],
        [
            migrations.CreateModel(
                "Sheet",
                [
                    ("id", models.BigAutoField(primary_key=True)),
                    ("name", models.CharField(max_length=20)),
                ],
            ),
            migrations.AddConstraint("Sheet", ONCE),
            migrations.AddConstraint("Sheet", HELD),
        ],
    ],
    ids=["null", "filled by the database", "indexed", "a table", "a table with its checks"],
)
def test_what_only_adds_passes(operations) -> None:
    assert judged(*operations) == []


def test_the_projects_own_migrations_pass_by_name_where_they_are_excepted() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.migrations_tolerated"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "migrations" in done.stdout


@pytest.mark.parametrize(
    ("excepted", "says"),
    [
        ({}, "old.0002: DROPPING columns; the version before does not tolerate it"),
        ({"old.0002": "unused since 0.1"}, "1 excepted"),
        ({"old.0001": "no reason"}, "old.0001: breaks nothing; it is no exception"),
    ],
)
def test_exceptions_are_by_name_and_no_more_than_needed(
    monkeypatch, capsys, excepted, says
) -> None:
    found = [("old.0001", []), ("old.0002", ["DROPPING columns"])]
    monkeypatch.setattr(migrations_tolerated, "judged", lambda: iter(found))
    monkeypatch.setattr(migrations_tolerated, "EXCEPTED", excepted)
    failed = migrations_tolerated.main()
    said = capsys.readouterr().out
    assert says in said
    assert failed == ("excepted" not in said)

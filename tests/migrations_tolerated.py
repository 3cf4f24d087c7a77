"""Migrations that the version before goes on working with: `python -m tests.migrations_tolerated`.

While a new version is started beside the old one, the old one writes to the new tables. So a
migration drops, renames and narrows nothing that the version before it uses, and a column that it
adds is filled by the database (`db_default`) or may be null. What PostgreSQL would be told is drawn
without a server, and django-migration-linter judges it; a check that is added to a table that is
there already is judged here.

What must go is left unused for one version, then dropped in the next by a migration that stands
in EXCEPTED with the version that used it last. Triggers and data that a migration writes by Python
are not seen: say in its docstring why old code may go on.
"""

import os
import re
import sys
from collections.abc import Iterator, Sequence
from typing import Any

import django
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.backends.ddl_references import Statement
from django.db.backends.postgresql.schema import DatabaseSchemaEditor
from django.db.migrations import Migration
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.state import ProjectState
from django.db.utils import ConnectionHandler
from django_migration_linter.sql_analyser.analyser import analyse_sql_statements
from django_migration_linter.sql_analyser.base import Check, CheckMode, CheckType
from django_migration_linter.sql_analyser.postgresql import PostgresqlAnalyser

APPS = ("jobs", "inspections", "notifications", "api")
FIRST = "before the first version that a shop ran"
RENAMES = "before the first release; the version before is stopped first"
EXCEPTED = {
    "inspections.0002_initial": FIRST,
    "inspections.0006_finish_and_answers": FIRST,
    "inspections.0013_walked_observations": FIRST,
    "inspections.0029_cover_release": RENAMES,
    "inspections.0030_inspection": RENAMES,
    "inspections.0031_site_changes_and_corrections": RENAMES,
    "inspections.0036_part_of_a_pack_as_message": RENAMES,
    "inspections.0038_words_of_verdicts_and_answers": RENAMES,
    "inspections.0044_appendix_behind_a_code": "the version before makes no such link",
    "inspections.0043_na_says_why": "it checks an answer that the version before does not write",
    "jobs.0003_plans_supposing": FIRST,
    "jobs.0006_photograph_locations": FIRST,
    "jobs.0013_builder": RENAMES,
    "jobs.0015_builder_rules": RENAMES,
    "jobs.0016_inspection": RENAMES,
    "jobs.0019_work_as_messages": RENAMES,
    "notifications.0002_reasons_of_many_kinds": FIRST,
    "notifications.0004_what_every_notice_knows": FIRST,
    "notifications.0006_once_per_job": FIRST,
    "notifications.0015_builder": RENAMES,
    "notifications.0017_inspection": RENAMES,
    "notifications.0018_messages": RENAMES,
    "notifications.0012_sealed": "bounded text becomes text; what is unique is new and may be null",
}
"""Migrations that break the rule, each with why that hurts nobody."""
ADDED = re.compile(r"ALTER TABLE (\S+) ADD CONSTRAINT \S+ CHECK")


def _narrows(statements: list[str], **_: object) -> bool:
    """Whether rows that were good before are refused by a check that is new."""
    tables = {found[1] for each in statements if (found := ADDED.match(each))}
    return any(
        not any(each.startswith(f"CREATE TABLE {table}") for each in statements) for table in tables
    )


class Tolerance(PostgresqlAnalyser):
    """The library's checks for PostgreSQL, and ours."""

    migration_checks = [
        *PostgresqlAnalyser.migration_checks,
        Check("ADD_CHECK", _narrows, "ADDING a check", CheckMode.TRANSACTION, CheckType.ERROR),
    ]


class Drawn(DatabaseSchemaEditor):
    """Statements for PostgreSQL, with values set in without asking a server how."""

    def execute(self, sql: Statement | str, params: Sequence[Any] | None = ()) -> None:
        """Keep a statement."""
        BaseDatabaseSchemaEditor.execute(self, sql, params)

    def _constraint_names(self, *_: object, **__: object) -> list[str]:
        """One of any name: what it is called there is no matter of a fault."""
        return ["found"]


def faults(migration: Migration, before: ProjectState) -> list[str]:
    """What code of the version before would stumble over."""
    given = {"ENGINE": "django.db.backends.postgresql", "NAME": "nowhere"}
    connection = ConnectionHandler({"default": given})["default"]
    vars(connection)["pg_version"] = 170000  # else it queries a server
    with Drawn(connection, collect_sql=True, atomic=False) as editor:
        migration.apply(before.clone(), editor, collect_sql=True)
    said = [each for each in editor.collected_sql if not each.startswith("--")]
    errors, _, _ = analyse_sql_statements(Tolerance, said, [])
    return [
        " ".join(filter(None, (each.message, each.table and f"({each.table}.{each.column})")))
        for each in errors
    ]


def judged() -> Iterator[tuple[str, list[str]]]:
    """Every migration of the project by name, with its faults."""
    loader = MigrationLoader(None)
    for app, name in sorted(key for key in loader.disk_migrations if key[0] in APPS):
        before = loader.project_state((app, name), at_end=False)
        yield f"{app}.{name}", faults(loader.disk_migrations[app, name], before)


def main() -> int:
    """Print every fault; 1 when there is one."""
    found = dict(judged())
    said = [
        f"{name}: {fault}; the version before does not tolerate it"
        for name, each in found.items()
        for fault in each
        if name not in EXCEPTED
    ]
    said += [f"{name}: breaks nothing; it is no exception" for name in EXCEPTED if not found[name]]
    print("\n".join(said) or f"{len(found)} migrations, {len(EXCEPTED)} excepted")
    return bool(said)


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    django.setup()
    sys.exit(main())

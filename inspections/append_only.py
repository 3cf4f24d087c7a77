"""Triggers that refuse to edit or delete what was recorded."""

from collections.abc import Sequence

from django.db.backends.base.base import BaseDatabaseWrapper

TABLES = (
    "inspections_observation",
    "inspections_inspectionevent",
    "inspections_acceptance",
    "inspections_houserevision",
    "inspections_tradereport",
    "inspections_recordentry",
    "inspections_photograph",
    "inspections_jobanswer",
    "inspections_deficiencyphotograph",
    "inspections_insulationchoice",
    "jobs_daylist",
    "inspections_amendment",
    "inspections_sitechange",
    "inspections_sitechangeanswer",
    "inspections_withdrawalanswer",
    "inspections_carriedanswers",
    "inspections_factcorrection",
)
FIRST = TABLES[:7]
"""Those that the first migration made; a later table comes with a migration of its own."""

POSTGRESQL = """
CREATE OR REPLACE FUNCTION studbay_keep() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% is kept as it is: record something later instead', TG_TABLE_NAME
        USING ERRCODE = 'integrity_constraint_violation';
END $$;
"""


def statements(vendor: str, table: str) -> list[str]:
    """What makes a table append-only on a kind of database."""
    if vendor == "postgresql":
        return [
            f"CREATE TRIGGER {table}_kept BEFORE UPDATE OR DELETE ON {table} "
            "FOR EACH ROW EXECUTE FUNCTION studbay_keep()"
        ]
    parts: list[str] = []
    for verb in ("UPDATE", "DELETE"):
        parts.append(
            f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} BEGIN "
            f"SELECT RAISE(ABORT, '{table} is kept as it is: record something later instead'); END"
        )
    return parts


def undo_statements(vendor: str, table: str) -> list[str]:
    """What makes it an ordinary table again."""
    if vendor == "postgresql":
        return [f"DROP TRIGGER IF EXISTS {table}_kept ON {table}"]
    parts: list[str] = []
    for verb in ("update", "delete"):
        parts.append(f"DROP TRIGGER IF EXISTS {table}_no_{verb}")
    return parts


def make_append_only(connection: BaseDatabaseWrapper, tables: Sequence[str] = TABLES) -> None:
    """Make the tables append-only."""
    vendor = connection.vendor
    with connection.cursor() as cursor:
        if vendor == "postgresql":
            cursor.execute(POSTGRESQL)
        for table in tables:
            for statement in statements(vendor, table):
                cursor.execute(statement)


def release(connection: BaseDatabaseWrapper, tables: Sequence[str] = TABLES) -> None:
    """Undo it."""
    vendor = connection.vendor
    with connection.cursor() as cursor:
        for table in tables:
            for statement in undo_statements(vendor, table):
                cursor.execute(statement)

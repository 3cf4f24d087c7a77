"""Revisions of a house are append-only again: SQLite made their table anew in 0032, without it."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_houserevision",)


def close(_apps, editor):
    """Make them append-only, also where they are so still."""
    release(editor.connection, TABLES)
    make_append_only(editor.connection, TABLES)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0036_part_of_a_pack_as_message")]
    operations = [migrations.RunPython(close, migrations.RunPython.noop)]

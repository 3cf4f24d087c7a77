"""Corrections of facts are kept as they were made, too."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_factcorrection",)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0041_fact_corrections")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        ),
    ]

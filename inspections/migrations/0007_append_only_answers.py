"""Answers of a whole job and photographs of deficiencies are kept as they are, too."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_jobanswer", "inspections_deficiencyphotograph")


class Migration(migrations.Migration):
    dependencies = [("inspections", "0006_finish_and_answers")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        )
    ]

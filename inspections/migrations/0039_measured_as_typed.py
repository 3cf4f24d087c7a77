"""What somebody typed off a tape stands beside its figure in mm.

Looks stay append-only: SQLite makes their table anew for a column, without its triggers. Old code
may go on: it writes no such column, and the database fills it.
"""

from django.db import migrations, models

from inspections.append_only import make_append_only, release

TABLES = ("inspections_observation",)


def close(_apps, editor):
    """Make them append-only, also where they are so still."""
    release(editor.connection, TABLES)
    make_append_only(editor.connection, TABLES)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0038_words_of_verdicts_and_answers")]
    operations = [
        migrations.AddField(
            model_name="observation",
            name="measured_typed",
            field=models.CharField(blank=True, db_default="", default="", max_length=40),
        ),
        migrations.RunPython(close, migrations.RunPython.noop),
    ]

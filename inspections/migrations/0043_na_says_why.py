"""A check that does not apply is answered N/A, one at a time and never without a reason.

Looks stay append-only: SQLite makes their table anew for a check, without its triggers. Old code may
go on: it writes no N/A, and the check says nothing of any other answer.
"""

from django.db import migrations, models

from inspections.append_only import make_append_only, release

TABLES = ("inspections_observation",)


def close(_apps, editor):
    """Make them append-only, also where they are so still."""
    release(editor.connection, TABLES)
    make_append_only(editor.connection, TABLES)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0042_append_only_fact_corrections")]
    operations = [
        migrations.AlterField(
            model_name="observation",
            name="outcome",
            field=models.CharField(
                choices=[("ok", "OK"), ("fix", "Fix"), ("cant_see", "Can't see"), ("na", "N/A")],
                max_length=10,
            ),
        ),
        migrations.AddConstraint(
            model_name="observation",
            constraint=models.CheckConstraint(
                condition=models.Q(("outcome", "na"), _negated=True)
                | (models.Q(("note", ""), _negated=True) & models.Q(("given", "each"))),
                name="na_says_why",
                violation_error_code="na_says_why",
                violation_error_message="N/A is recorded for one check at a time, with its reason.",
            ),
        ),
        migrations.RunPython(close, migrations.RunPython.noop),
    ]

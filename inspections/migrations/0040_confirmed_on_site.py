"""What is as drawn is confirmed on site: how an answer was given, and what waits for one.

Items of before count as workmanship by none until their facts change, so nothing is taken back that
was released on them; the column was filled for a while before anything rested on it.

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


def items_of_before(apps, _editor):
    """No item waits for the site that was drawn before items did."""
    apps.get_model("inspections", "Item").objects.filter(workmanship=True).update(
        workmanship=False
    )


class Migration(migrations.Migration):
    dependencies = [("inspections", "0039_measured_as_typed")]
    operations = [
        migrations.AddField(
            model_name="observation",
            name="given",
            field=models.CharField(
                choices=[("each", "each by itself"), ("room", "as drawn, room by room")],
                db_default="each",
                default="each",
                max_length=10,
            ),
        ),
        migrations.RunPython(close, migrations.RunPython.noop),
        migrations.RunPython(items_of_before, migrations.RunPython.noop),
    ]

"""What a crew was sent for a day is kept as it was sent."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("jobs_daylist",)


class Migration(migrations.Migration):
    dependencies = [
        ("inspections", "0007_append_only_answers"),
        ("jobs", "0002_crews_and_plans"),
    ]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        )
    ]

"""What was carried over is kept as it was, too."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_carriedanswers",)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0032_checked_by_and_carried")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        ),
    ]

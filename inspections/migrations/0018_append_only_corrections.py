"""What was found on site of a box, and what the office said of it, is kept as it was, too."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_correction", "inspections_correctionanswer")


class Migration(migrations.Migration):
    dependencies = [("inspections", "0017_corrections")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        )
    ]

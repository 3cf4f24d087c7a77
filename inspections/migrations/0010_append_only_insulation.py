"""What was chosen for the outside walls is kept as it was, too."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_insulationchoice",)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0009_insulation_choice")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        )
    ]

"""What a shop amended is kept as it was, too."""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_amendment",)


class Migration(migrations.Migration):
    dependencies = [("inspections", "0014_amendments")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        )
    ]

"""What was recorded is neither edited nor deleted, whoever asks the database."""

from django.db import migrations

from inspections.append_only import FIRST, keep, release


class Migration(migrations.Migration):
    dependencies = [("inspections", "0002_initial")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: keep(editor.connection, FIRST),
            lambda _apps, editor: release(editor.connection, FIRST),
        )
    ]

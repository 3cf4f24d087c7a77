"""What was recorded is neither edited nor deleted, whoever asks the database."""

from django.db import migrations

from inspections.append_only import FIRST, make_append_only, release


class Migration(migrations.Migration):
    dependencies = [("inspections", "0002_initial")]
    operations = [
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, FIRST),
            lambda _apps, editor: release(editor.connection, FIRST),
        )
    ]

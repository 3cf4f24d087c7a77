"""Every job is due once, so that the sweep finds when each is due next."""

from django.db import migrations
from django.utils import timezone


def all_due(apps, schema_editor):
    apps.get_model('inspections', 'JobStanding').objects.update(next_at=timezone.now())


class Migration(migrations.Migration):

    dependencies = [
        ('inspections', '0004_next_moment'),
    ]

    operations = [
        migrations.RunPython(all_due, migrations.RunPython.noop),
    ]

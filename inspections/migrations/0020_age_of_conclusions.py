"""When a job was last drawn, and whether it was set aside. Every job is due once, since a permit
of a day to come holds now; code of the version before goes on settling as it did.
"""

from django.db import migrations, models
from django.utils import timezone


def all_due(apps, schema_editor):
    apps.get_model('inspections', 'JobStanding').objects.update(next_at=timezone.now())


class Migration(migrations.Migration):

    dependencies = [
        ('inspections', '0019_packs'),
    ]

    operations = [
        migrations.AddField(
            model_name='jobstanding',
            name='drawn_at',
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='jobstanding',
            name='set_aside_at',
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='jobstanding',
            name='set_aside_because',
            field=models.CharField(blank=True, db_default='', default='', max_length=200),
        ),
        migrations.AddField(
            model_name='jobstanding',
            name='tries',
            field=models.PositiveSmallIntegerField(db_default=0, default=0),
        ),
        migrations.AddField(
            model_name='jobstanding',
            name='try_at',
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.RunPython(all_due, migrations.RunPython.noop),
    ]

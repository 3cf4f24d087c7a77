"""The inspector's visit is an inspection, in what authorities take and in the codes of plans.

Code of the version before knows the old names: stop it first. No shop has run a release yet.
"""

from django.db import migrations, models
from django.db.models import Value
from django.db.models.functions import Concat, Substr

TASKS = ('PlannedWork', 'WorkReport')


def _begin_otherwise(apps, old, new):
    """Keys of tasks, such as `rough-in/bedroom`, begin with their kind."""
    for name in TASKS:
        tasks = apps.get_model('jobs', name).objects.filter(task__startswith=f'{old}/')
        tasks.update(task=Concat(Value(new), Substr('task', len(old) + 1)))
    apps.get_model('jobs', 'PlannedWork').objects.filter(kind=old).update(kind=new)


def rename(apps, _editor):
    """The old word of the kind becomes the new one."""
    _begin_otherwise(apps, 'visit', 'inspection')


def back(apps, _editor):
    """The new word becomes the old one."""
    _begin_otherwise(apps, 'inspection', 'visit')


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0015_builder_rules'),
    ]

    operations = [
        migrations.RemoveConstraint('authority', 'visits_have_hours'),
        migrations.RenameField('authority', 'visits_on', 'inspections_on'),
        migrations.AddConstraint(
            model_name='authority',
            constraint=models.CheckConstraint(condition=models.Q(('from_hour__lt', models.F('to_hour'))), name='inspections_have_hours', violation_error_code='inspections_have_hours', violation_error_message='The hours of visits end before they begin. Set the last hour later than the first.'),
        ),
        migrations.RunPython(rename, back),
    ]

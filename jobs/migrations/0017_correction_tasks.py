"""The task of correcting what an area has open is called so in plans and in what crews reported.

Lists that crews were sent are kept as they were sent: `DayList.content` gives them by today's names.
Code of the version before plans and reports by the old word: stop it first. A report whose task would
not fit the column any more is of no area, and stays as it was given.
"""

from django.db import migrations
from django.db.models import Value
from django.db.models.functions import Concat, Length, Substr

OLD, NEW = 'mend', 'correction'
LONGEST = 80


def _called(apps, old, new):
    """The old word becomes the new one, in the kind of a task and before the slash of its key."""
    apps.get_model('jobs', 'PlannedWork').objects.filter(kind=old).update(kind=new)
    room = LONGEST - len(new) + len(old)
    for name in ('PlannedWork', 'WorkReport'):
        rows = apps.get_model('jobs', name).objects.alias(length=Length('task'))
        rows.filter(task__startswith=f'{old}/', length__lte=room).update(
            task=Concat(Value(new), Substr('task', len(old) + 1))
        )


def rename(apps, _editor):
    """From mend to correction."""
    _called(apps, OLD, NEW)


def back(apps, _editor):
    """From correction to mend."""
    _called(apps, NEW, OLD)


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0016_inspection'),
    ]

    operations = [
        migrations.RunPython(rename, back),
    ]

"""The inspector's visit is an inspection in notices, their reasons and what people wish by kind.

Code of the version before knows the old names: stop it first. No shop has run a release yet.
"""

from django.db import migrations, models

REASONS = {
    'visit booked': 'inspection booked',
    'visit moved': 'inspection rescheduled',
    'visit cancelled': 'inspection cancelled',
    'visit tomorrow': 'inspection tomorrow',
}
KINDS = [('permit', 'permits'), ('inspection', 'visits by the inspector'), ('deficiency', 'deficiencies'), ('cover', 'covering: clear and hold'), ('hookup', 'construction hookup and temporary service'), ('list', "the next day's list"), ('finish', 'finish, final and certificate'), ('summary', 'weekly summary'), ('trouble', 'messages and checks that failed'), ('audit', 'what the nightly audit found')]


def rename(apps, _editor):
    """The old words become the new ones."""
    for old, new in REASONS.items():
        apps.get_model('notifications', 'Notice').objects.filter(reason=old).update(reason=new)
    for name in ('Notice', 'Wish'):
        kept = apps.get_model('notifications', name).objects.filter(kind='visit')
        kept.update(kind='inspection')


def back(apps, _editor):
    """The new words become the old ones."""
    for old, new in REASONS.items():
        apps.get_model('notifications', 'Notice').objects.filter(reason=new).update(reason=old)
    for name in ('Notice', 'Wish'):
        kept = apps.get_model('notifications', name).objects.filter(kind='inspection')
        kept.update(kind='visit')


class Migration(migrations.Migration):

    dependencies = [
        ('notifications', '0016_cover_release'),
        ('inspections', '0030_inspection'),
    ]

    operations = [
        migrations.RenameField('notice', 'visit', 'inspection'),
        migrations.AlterField(
            model_name='notice',
            name='kind',
            field=models.CharField(choices=KINDS, max_length=12),
        ),
        migrations.AlterField(
            model_name='wish',
            name='kind',
            field=models.CharField(choices=KINDS, max_length=12),
        ),
        migrations.RunPython(rename, back),
    ]

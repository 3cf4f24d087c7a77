"""The role of a builder's people is called so, and the constraints hold by it again."""

from django.db import migrations

OLD, NEW = 'general_contractor', 'builder'


def rename(apps, _editor):
    """The old word of the role becomes the new one."""
    for name in ('Membership', 'Invitation'):
        apps.get_model('jobs', name).objects.filter(role=OLD).update(role=NEW)


def back(apps, _editor):
    """The new word becomes the old one."""
    for name in ('Membership', 'Invitation'):
        apps.get_model('jobs', name).objects.filter(role=NEW).update(role=OLD)


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0013_builder'),
    ]

    operations = [
        migrations.RunPython(rename, back),
    ]

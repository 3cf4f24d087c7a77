"""A calendar of a builder's houses is called so."""

from django.db import migrations, models


def rename(apps, _editor):
    """The old word of the scope becomes the new one."""
    apps.get_model('notifications', 'Feed').objects.filter(scope='contractor').update(scope='builder')


def back(apps, _editor):
    """The new word becomes the old one."""
    apps.get_model('notifications', 'Feed').objects.filter(scope='builder').update(scope='contractor')


class Migration(migrations.Migration):

    dependencies = [
        ('notifications', '0014_order_of_rows'),
        ('jobs', '0013_builder'),
    ]

    operations = [
        migrations.RenameField('feed', 'contractor', 'builder'),
        migrations.AlterField(
            model_name='feed',
            name='scope',
            field=models.CharField(choices=[('person', 'all that I have to do with'), ('job', 'one job'), ('builder', "a builder's houses"), ('crew', "a crew lead's jobs")], max_length=10),
        ),
        migrations.RunPython(rename, back),
    ]

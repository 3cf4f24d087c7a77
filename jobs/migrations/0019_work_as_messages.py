"""What is done in a plan is kept as a message; what was kept as a sentence stays one.

A JSON string is read as an English sentence of before. Code of the version before writes text:
stop it first.
"""

from django.db import migrations, models


def keep_sentences(apps, schema_editor):
    """Every sentence as a JSON string. A shop has few different ones."""
    work = apps.get_model('jobs', 'PlannedWork').objects
    for name in set(work.order_by().values_list('name', flat=True).distinct()):
        work.filter(name=name).update(said=name)


class Migration(migrations.Migration):
    dependencies = [('jobs', '0018_units_of_a_person')]

    operations = [
        migrations.AddField('plannedwork', 'said', models.JSONField(default=str)),
        migrations.RunPython(keep_sentences),
        migrations.RemoveField('plannedwork', 'name'),
        migrations.RenameField('plannedwork', 'said', 'name'),
        migrations.AlterField('plannedwork', 'name', models.JSONField()),
    ]

"""Holds that are kept for pages name the builder, as those that are drawn from now on do."""

from django.db import migrations


def rename(apps, _editor):
    """The old word becomes the new one in who lifts a hold."""
    standings = apps.get_model('inspections', 'AreaStanding').objects
    for standing in standings.exclude(holds=[]).iterator():
        changed = False
        for hold in standing.holds:
            if 'contractor' in hold['lifted_by']:
                hold['lifted_by'] = hold['lifted_by'].replace('contractor', 'builder')
                changed = True
        if changed:
            standing.save(update_fields=['holds'])


class Migration(migrations.Migration):

    dependencies = [
        ('inspections', '0027_order_of_rows'),
        ('jobs', '0013_builder'),
    ]

    operations = [
        migrations.RunPython(rename, migrations.RunPython.noop),
    ]

"""The inspector's visit is an inspection in deficiencies, in answers and in the lists of a day.

Every row stays. What is append-only is opened for this migration alone and closed again at its end,
in one transaction: an answer's ground and a list's keys get another name, and say what they said.
The record stays as it was chained; entries of before say visit, entries from now on say inspection.
Code of the version before knows the old names: stop it first. No shop has run a release yet.
"""

from django.db import migrations, models

from inspections.append_only import make_append_only, release

TABLES = ('inspections_acceptance', 'inspections_inspectionevent', 'jobs_daylist')


def _opened(_apps, editor):
    """Let the rows be written anew."""
    release(editor.connection, TABLES)


def _closed(_apps, editor):
    """From here on they are kept as they are. A table that SQLite copied has lost its triggers."""
    release(editor.connection, TABLES)
    make_append_only(editor.connection, TABLES)


def _call(apps, old, new):
    """Answers and lists by the new word."""
    apps.get_model('inspections', 'Acceptance').objects.filter(basis=old).update(basis=new)
    lists = apps.get_model('jobs', 'DayList').objects
    for each in lists.order_by('id').iterator():
        content = _anew(each.content, old, new)
        if content != each.content:
            lists.filter(id=each.id).update(content=content)


def _anew(content, old, new):
    """A list of a day, with its keys and the codes of its work by the new word."""
    houses = []
    for house in content.get('houses', []):
        house = {f'{new}s' if key == f'{old}s' else key: value for key, value in house.items()}
        for work in house.get('work', []):
            if work.get('kind') == old:
                work['kind'] = new
            if work.get('task', '').startswith(f'{old}/'):
                work['task'] = new + work['task'][len(old):]
        houses.append(house)
    if 'houses' in content:
        content = content | {'houses': houses}
    return content


def rename(apps, _editor):
    """The old word becomes the new one."""
    _call(apps, 'visit', 'inspection')


def back(apps, _editor):
    """The new word becomes the old one."""
    _call(apps, 'inspection', 'visit')


class Migration(migrations.Migration):

    dependencies = [
        ('inspections', '0029_cover_release'),
        ('jobs', '0016_inspection'),
    ]

    operations = [
        migrations.RunPython(_opened, _closed),
        migrations.RemoveConstraint('acceptance', 'one_answer_per_area_and_visit'),
        migrations.RemoveConstraint('acceptance', 'an_answer_at_a_visit_names_it'),
        migrations.RemoveConstraint('inspectionevent', 'a_visit_ends_after_it_starts'),
        migrations.RemoveConstraint('inspectionevent', 'a_booked_visit_has_a_window'),
        migrations.RenameField('deficiency', 'called_at_visit', 'called_at_inspection'),
        migrations.RenameField('deficiency', 'accepted_at_visit', 'accepted_at_inspection'),
        migrations.AlterField(
            model_name='acceptance',
            name='basis',
            field=models.CharField(choices=[('inspection', "the inspector's answer at a visit"), ('waiver', 'the authority waived the visit'), ('elapsed', 'nobody came in the time stated, and the holder declared it')], max_length=12),
        ),
        migrations.RunPython(rename, back),
        migrations.AddConstraint(
            model_name='acceptance',
            constraint=models.UniqueConstraint(fields=('area', 'inspection'), name='one_answer_per_area_and_inspection', violation_error_code='one_answer_per_area_and_inspection', violation_error_message='This visit has an answer for that area already.'),
        ),
        migrations.AddConstraint(
            model_name='acceptance',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('basis', 'inspection'), ('inspection__isnull', False)), models.Q(('basis', 'inspection'), _negated=True), _connector='OR'), name='an_answer_at_an_inspection_names_it', violation_error_code='an_answer_at_an_inspection_names_it', violation_error_message='An answer that was given at a visit names the visit.'),
        ),
        migrations.AddConstraint(
            model_name='inspectionevent',
            constraint=models.CheckConstraint(condition=models.Q(('starts_at__isnull', True), ('ends_at__gt', models.F('starts_at')), _connector='OR'), name='an_inspection_ends_after_it_starts', violation_error_code='an_inspection_ends_after_it_starts', violation_error_message='The visit ends before it starts. Set the end later than the start.'),
        ),
        migrations.AddConstraint(
            model_name='inspectionevent',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('happening__in', ('booked', 'moved')), _negated=True), ('starts_at__isnull', False), _connector='OR'), name='a_booked_inspection_has_a_window', violation_error_code='a_booked_inspection_has_a_window', violation_error_message='Give the day and the hours that the visit is booked for.'),
        ),
        migrations.RunPython(_closed, _opened),
    ]

"""The record that an area may be covered is a cover release in the tables too; no row is lost.

Code of the version before knows the old names: stop it first. No shop has run a release yet. What
the nightly audit found of such a record is called so as well, since the office is told by that.
SQLite makes a table anew whose reference is renamed, and its triggers with it.
"""

import django.db.models.deletion
from django.db import migrations, models

from inspections.append_only import make_append_only, release

TABLES = ("inspections_withdrawalanswer",)
OLD, NEW = "clearance", "cover release"


def _lines(lines, old, new):
    """What was found, with the new word for the old; None where the old one is not there."""
    if not any(each.get("about") == old for each in lines):
        return None
    return [each | {"about": new} if each.get("about") == old else each for each in lines]


def _found(apps, old, new):
    for shop in apps.get_model("inspections", "AuditedShop").objects.order_by("pk"):
        lines = _lines(shop.lines, old, new)
        if lines is not None:
            shop.lines = lines
            shop.save(update_fields=["lines"])
    for run in apps.get_model("inspections", "AuditRun").objects.filter(ended_at__isnull=True):
        lines = _lines(run.here.get("lines", []), old, new)
        if lines is not None:
            run.here = run.here | {"lines": lines}
            run.save(update_fields=["here"])


def rename(apps, _editor):
    """The old word of what a line is about becomes the new one."""
    _found(apps, OLD, NEW)


def back(apps, _editor):
    """The new word becomes the old one."""
    _found(apps, NEW, OLD)


class Migration(migrations.Migration):

    dependencies = [
        ('inspections', '0028_builder'),
        ('jobs', '0015_builder_rules'),
    ]

    operations = [
        migrations.RunPython(
            lambda _apps, editor: release(editor.connection, TABLES),
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
        ),
        migrations.RemoveConstraint('areastanding', 'no_clearance_with_a_hold'),
        migrations.RemoveConstraint('clearance', 'one_live_clearance_per_area'),
        migrations.RemoveConstraint('clearance', 'clearance_has_reference'),
        migrations.RemoveConstraint('clearance', 'withdrawn_clearance_says_why'),
        migrations.RenameModel('Clearance', 'CoverRelease'),
        migrations.RenameField('areastanding', 'cleared', 'released'),
        migrations.RenameField('link', 'clearance', 'cover_release'),
        migrations.RenameField('withdrawalanswer', 'clearance', 'cover_release'),
        migrations.AlterField(
            model_name='coverrelease',
            name='acceptance',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='cover_releases', to='inspections.acceptance'),
        ),
        migrations.AlterField(
            model_name='coverrelease',
            name='area',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='cover_releases', to='jobs.area'),
        ),
        migrations.AddConstraint(
            model_name='areastanding',
            constraint=models.CheckConstraint(condition=models.Q(('released', False), ('hold_count', 0), _connector='OR'), name='no_cover_release_with_a_hold', violation_error_code='no_cover_release_with_a_hold', violation_error_message='An area with a hold cannot be clear.'),
        ),
        migrations.AddConstraint(
            model_name='coverrelease',
            constraint=models.UniqueConstraint(condition=models.Q(('withdrawn_at__isnull', True)), fields=('area',), name='one_live_cover_release_per_area', violation_error_code='one_live_cover_release_per_area', violation_error_message='This area is cleared already.'),
        ),
        migrations.AddConstraint(
            model_name='coverrelease',
            constraint=models.CheckConstraint(condition=models.Q(('reference', ''), _negated=True), name='cover_release_has_reference', violation_error_code='cover_release_has_reference', violation_error_message="Give the authority's reference."),
        ),
        migrations.AddConstraint(
            model_name='coverrelease',
            constraint=models.CheckConstraint(condition=models.Q(('withdrawn_at__isnull', True), models.Q(('withdrawn_because', ''), _negated=True), _connector='OR'), name='withdrawn_cover_release_says_why', violation_error_code='withdrawn_cover_release_says_why', violation_error_message='Say why the clearance is withdrawn.'),
        ),
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        ),
        migrations.RunPython(rename, back),
    ]

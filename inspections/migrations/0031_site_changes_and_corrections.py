"""A box found elsewhere is a site change, and a deficiency is corrected; no row is written anew.

The word correction was taken by the first; it is free now for what is done about a deficiency. Tables
that are append-only are ordinary ones while they get their names, since SQLite makes them anew; then
each is kept again, under the name that it has. Entries of the record stay as they were written. Code
of the version before knows the old names: stop it first. No shop has run a release yet.
"""

import django.db.models.deletion
from django.db import migrations, models

from inspections.append_only import make_append_only, release

OLD = ('inspections_correction', 'inspections_correctionanswer')
NEW = ('inspections_sitechange', 'inspections_sitechangeanswer')


class Migration(migrations.Migration):

    dependencies = [
        ('inspections', '0030_inspection'),
    ]

    operations = [
        migrations.RunPython(
            lambda _apps, editor: release(editor.connection, OLD),
            lambda _apps, editor: make_append_only(editor.connection, OLD),
        ),
        migrations.RenameModel('Correction', 'SiteChange'),
        migrations.RenameModel('CorrectionAnswer', 'SiteChangeAnswer'),
        migrations.RenameField('sitechangeanswer', 'correction', 'site_change'),
        migrations.AlterField(
            model_name='sitechange',
            name='job',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='site_changes', to='jobs.job'),
        ),
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, NEW),
            lambda _apps, editor: release(editor.connection, NEW),
        ),
        migrations.RemoveConstraint('deficiency', 'accepted_after_it_was_mended'),
        migrations.RenameField('deficiency', 'mended_at', 'corrected_at'),
        migrations.RenameField('deficiency', 'mended_by', 'corrected_by'),
        migrations.AddConstraint(
            model_name='deficiency',
            constraint=models.CheckConstraint(condition=models.Q(('accepted_at__isnull', True), ('corrected_at__isnull', False), _connector='OR'), name='accepted_after_it_was_corrected', violation_error_code='accepted_after_it_was_corrected', violation_error_message='A deficiency is accepted only after it was corrected.'),
        ),
    ]

"""What held an area when its cover release was withdrawn, as messages beside the sentences."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("inspections", "0033_append_only_carried")]
    operations = [
        migrations.AddField(
            model_name="coverrelease",
            name="withdrawn_holds",
            field=models.JSONField(blank=True, null=True),
        ),
        migrations.AlterConstraint(
            model_name='areastanding',
            name='no_cover_release_with_a_hold',
            constraint=models.CheckConstraint(condition=models.Q(('released', False), ('hold_count', 0), _connector='OR'), name='no_cover_release_with_a_hold', violation_error_code='no_cover_release_with_a_hold', violation_error_message='An area with a hold cannot be released for cover.'),
        ),
        migrations.AlterConstraint(
            model_name='coverrelease',
            name='one_live_cover_release_per_area',
            constraint=models.UniqueConstraint(condition=models.Q(('withdrawn_at__isnull', True)), fields=('area',), name='one_live_cover_release_per_area', violation_error_code='one_live_cover_release_per_area', violation_error_message='This area is already released for cover.'),
        ),
        migrations.AlterConstraint(
            model_name='coverrelease',
            name='withdrawn_cover_release_says_why',
            constraint=models.CheckConstraint(condition=models.Q(('withdrawn_at__isnull', True), models.Q(('withdrawn_because', ''), _negated=True), _connector='OR'), name='withdrawn_cover_release_says_why', violation_error_code='withdrawn_cover_release_says_why', violation_error_message='Enter why the cover release is withdrawn.'),
        ),
    ]

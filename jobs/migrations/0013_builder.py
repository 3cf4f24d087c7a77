"""Our customer is the builder, as the trade says, in the tables as well; no row is written anew.

Code of the version before knows the old names: stop it first. No shop has run a release yet.
"""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0012_order_of_rows'),
        # A calendar points at a builder: it is to be there before the name changes.
        ('notifications', '0014_order_of_rows'),
    ]

    operations = [
        migrations.RemoveConstraint('contractor', 'contractor_name_once_per_shop'),
        migrations.RemoveConstraint('membership', 'contractor_people_have_a_firm'),
        migrations.RemoveConstraint('invitation', 'invited_contractors_have_a_firm'),
        migrations.RenameModel('Contractor', 'Builder'),
        migrations.RenameField('job', 'contractor', 'builder'),
        migrations.RenameField('membership', 'contractor', 'builder'),
        migrations.RenameField('invitation', 'contractor', 'builder'),
        migrations.AlterField(
            model_name='builder',
            name='shop',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='builders', to='jobs.shop'),
        ),
    ]

"""The part of a pack that is being made, as a message; what a worker is on, it says anew."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("inspections", "0035_workmanship_of_an_item")]
    operations = [
        migrations.RemoveField(model_name="pack", name="part"),
        migrations.AddField(
            model_name="pack",
            name="part",
            field=models.JSONField(blank=True, default=str),
        ),
    ]

"""The words of two refusals; no table changes."""

from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0020_words_of_hours_and_plans"),
        ("notifications", "0018_messages"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AlterConstraint(
            model_name="address",
            name="one_address_once_per_person",
            constraint=models.UniqueConstraint(
                fields=("person", "channel", "digest"),
                name="one_address_once_per_person",
                violation_error_code="one_address_once_per_person",
                violation_error_message="This address is already on your list.",
            ),
        ),
        migrations.AlterConstraint(
            model_name="wish",
            name="one_wish_per_kind",
            constraint=models.UniqueConstraint(
                fields=("person", "kind"),
                name="one_wish_per_kind",
                violation_error_code="one_wish_per_kind",
                violation_error_message="A choice for this kind is already recorded.",
            ),
        ),
    ]

"""Sessions under a digest of their key; tokens that run out.

The version before goes on beside this one: it knows nothing of the new column, which the database
fills with null, and whoever signs in with it signs in once more with this one. Nobody whose session
was open before is signed out. A token without a day is good for a year from the day of the upgrade.
"""

import hashlib
from datetime import timedelta

from django.db import migrations
from django.utils import timezone

import jobs.models.fields

KEY, KEPT = 32, 40
"""Characters of a key, and of what is kept of it."""


def digest_sessions(apps, schema_editor):
    """Put the digest of its key in place of every key."""
    session = apps.get_model("sessions", "Session")
    for row in session.objects.all():
        if len(row.session_key) != KEY:
            continue
        kept = hashlib.sha256(row.session_key.encode()).hexdigest()[:KEPT]
        session.objects.create(
            session_key=kept, session_data=row.session_data, expire_date=row.expire_date
        )
        session.objects.filter(session_key=row.session_key).delete()


def give_tokens_a_day(apps, schema_editor):
    """Let the tokens that were made without a last day have one, a year from now."""
    token = apps.get_model("jobs", "ApiToken")
    token.objects.filter(expires_at=None).update(expires_at=timezone.now() + timedelta(days=365))


class Migration(migrations.Migration):

    dependencies = [
        ("jobs", "0009_words_of_faults"),
        ("sessions", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="apitoken",
            name="expires_at",
            field=jobs.models.fields.MomentField(blank=True, null=True),
        ),
        migrations.RunPython(digest_sessions, migrations.RunPython.noop, elidable=True),
        migrations.RunPython(give_tokens_a_day, migrations.RunPython.noop, elidable=True),
    ]

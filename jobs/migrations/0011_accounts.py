"""Second factors move to the library's table, sealed; sessions are listed; ways back.

The version before goes on beside this one: columns that it writes stay, and what is new the
database fills. Whoever has a second factor is asked for it by this version alone, since what the
old one computes codes from is empty; it refuses their code rather than taking none.
"""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import jobs.models.base

KEPT_AT = "mfa_authenticator.data"
PENDING_AT = "jobs_secondfactor.pending"


def move_factors(apps, schema_editor):
    """Seal the secret of every phone, and the digests of recovery codes that are unused."""
    from config.sealing import seal

    factor_model = apps.get_model("jobs", "SecondFactor")
    authenticator = apps.get_model("mfa", "Authenticator")
    for factor in factor_model.objects.filter(ended_at=None).exclude(secret=""):
        of = factor_model.objects.filter(id=factor.id)
        if factor.confirmed_at is None:
            of.update(secret="", pending=seal(factor.secret, of=PENDING_AT))
            continue
        unused = factor.recovery_codes.filter(used_at=None).order_by("id")
        digests = [seal(each.digest, of=KEPT_AT) for each in unused]
        given = {"user_id": factor.person_id, "created_at": factor.confirmed_at}
        authenticator.objects.create(
            type="totp", data={"secret": seal(factor.secret, of=KEPT_AT)}, **given
        )
        authenticator.objects.create(
            type="recovery_codes", data={"migrated_codes": digests}, **given
        )
        of.update(secret="")


class Migration(migrations.Migration):

    dependencies = [
        ("jobs", "0010_sessions_and_tokens"),
        ("mfa", "0003_authenticator_type_uniq"),
    ]

    operations = [
        migrations.AddField(
            model_name="secondfactor",
            name="pending",
            field=models.TextField(blank=True, db_default="", default=""),
        ),
        migrations.CreateModel(
            name="OpenSession",
            fields=[
                ("id", models.UUIDField(default=jobs.models.base.new_id, editable=False, primary_key=True, serialize=False)),
                ("digest", models.CharField(max_length=40, unique=True)),
                ("began_at", models.DateTimeField()),
                ("seen_at", models.DateTimeField()),
                ("place", models.CharField(blank=True, max_length=45)),
                ("browser", models.CharField(blank=True, max_length=200)),
                ("person", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="open_sessions", to=settings.AUTH_USER_MODEL)),
            ],
            options={"ordering": ["began_at", "id"]},
        ),
        migrations.CreateModel(
            name="WayBack",
            fields=[
                ("id", models.UUIDField(default=jobs.models.base.new_id, editable=False, primary_key=True, serialize=False)),
                ("digest", models.CharField(max_length=64, unique=True)),
                ("made_at", models.DateTimeField()),
                ("expires_at", models.DateTimeField()),
                ("used_at", models.DateTimeField(blank=True, null=True)),
                ("made_by", models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL)),
                ("person", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="ways_back", to=settings.AUTH_USER_MODEL)),
                ("shop", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="ways_back", to="jobs.shop")),
            ],
            options={"ordering": ["made_at", "id"], "verbose_name_plural": "ways back"},
        ),
        migrations.RunPython(move_factors, migrations.RunPython.noop, elidable=True),
    ]

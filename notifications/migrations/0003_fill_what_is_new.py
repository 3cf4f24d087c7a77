"""Notices given before know their shop, kind and moment; every shop has its rules."""

from django.db import migrations
from django.db.models import F, OuterRef, Subquery


def fill(apps, schema_editor):
    Notice = apps.get_model('notifications', 'Notice')
    job = apps.get_model('jobs', 'Job').objects.filter(id=OuterRef('job_id'))
    Notice.objects.update(
        given_at=F('due_at'), kind='cover', shop_id=Subquery(job.values('shop_id')[:1])
    )
    Rules = apps.get_model('notifications', 'NoticeRules')
    for shop in apps.get_model('jobs', 'Shop').objects.all():
        Rules.objects.get_or_create(shop=shop)


class Migration(migrations.Migration):

    dependencies = [
        ('notifications', '0002_reasons_of_many_kinds'),
    ]

    operations = [
        migrations.RunPython(fill, migrations.RunPython.noop),
    ]

"""Notices of a cover release are kept by its name, and those of an audit by what it found of one.

The occasion of an audit's notice is a digest of what was found. It is taken anew, so that nobody is
told twice of the same differences.
"""

import hashlib
import json

from django.db import migrations

REASONS = {"area cleared": "area released", "clearance withdrawn": "cover release withdrawn"}
OLD, NEW = "clearance", "cover release"


def _occasion(shop, about):
    """The occasion of what was found in a shop, where it is called so."""
    lines = [each | {"about": about} if each.get("about") == NEW else each for each in shop.lines]
    text = json.dumps(lines, sort_keys=True)
    return f"{shop.differences} {hashlib.sha256(text.encode()).hexdigest()[:16]}"


def _audits(apps, was, now):
    """The occasions of notices of the last audit, and of those that were handed on."""
    told = apps.get_model("notifications", "Notice").objects.filter(reason="audit")
    for shop in apps.get_model("inspections", "AuditedShop").objects.order_by("pk"):
        old, new = _occasion(shop, was), _occasion(shop, now)
        if old == new:
            continue
        for notice in told.filter(shop=shop.shop_id, occasion__startswith=old).order_by("id"):
            notice.occasion = notice.occasion.replace(old, new, 1)
            notice.save(update_fields=["occasion"])


def rename(apps, _editor):
    """The old words become the new ones."""
    notices = apps.get_model("notifications", "Notice").objects
    for was, now in REASONS.items():
        notices.filter(reason=was).update(reason=now)
    _audits(apps, OLD, NEW)


def back(apps, _editor):
    """The new words become the old ones."""
    notices = apps.get_model("notifications", "Notice").objects
    for was, now in REASONS.items():
        notices.filter(reason=now).update(reason=was)
    _audits(apps, NEW, OLD)


class Migration(migrations.Migration):

    dependencies = [
        ('notifications', '0015_builder'),
        ('inspections', '0029_cover_release'),
    ]

    operations = [
        migrations.RunPython(rename, back),
    ]

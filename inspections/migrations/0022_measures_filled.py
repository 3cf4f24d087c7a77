"""The limits of what is measured, of items that were drawn before they had any.

They follow from the facts of each job's latest revision by its own rulebook, as recording it would
have given them; nothing else of an item changes, its fingerprint least of all. Every job is then
due to be settled: what counts as passed is drawn by other rules than before.

Old code may go on: it neither reads nor writes the columns. An item that it draws while both run
has no limits until its house is recorded again.
"""

from django.db import migrations
from django.utils import timezone

from inspections.checker.load import HouseFaults, load_house
from inspections.checker.rulebook import RulebookFault
from inspections.checker.check import check
from inspections.checker.amendments import load_rulebook

COLUMNS = ("measure_what", "measure_min_mm", "measure_max_mm")


def fill(apps, _editor):
    """Copy the limits of each finding of today onto its item."""
    job_model = apps.get_model("inspections", "Item")._meta.get_field("job").related_model
    for job in job_model.objects.filter(revisions__isnull=False).distinct().iterator():
        _fill_job(apps, job)
    standings = apps.get_model("inspections", "JobStanding")
    standings.objects.update(next_at=timezone.now())


def _fill_job(apps, job):
    item_model = apps.get_model("inspections", "Item")
    revision = job.revisions.order_by("number").last()
    try:
        house = load_house(revision.house.encode())
        found = check(house, load_rulebook(revision.rulebook, revision.amendments))
    except (HouseFaults, RulebookFault):
        return  # by the rules of an older version: its limits come with its next revision
    measures = {(each.rule.id, each.subject): each.measure for each in found}
    changed = []
    for item in item_model.objects.filter(job=job):
        measure = measures.get((item.rule, item.subject))
        if measure is not None:
            item.measure_what = measure.what
            item.measure_min_mm, item.measure_max_mm = measure.min_mm, measure.max_mm
            changed.append(item)
    item_model.objects.bulk_update(changed, COLUMNS, batch_size=200)


class Migration(migrations.Migration):
    """Data alone, by itself, so that the table is not locked while houses are checked."""

    dependencies = [("inspections", "0021_measures")]

    operations = [migrations.RunPython(fill, migrations.RunPython.noop, elidable=False)]

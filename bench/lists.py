"""The crews' lists of one day computed and drawn as PDFs: `python -m bench.lists [JOBS] [CREWS]`.

It makes a database of its own, with houses, crews and a plan that was told; twice the size
follows, to show that the time grows no faster.
"""

import os
import sys
import tempfile
from datetime import date
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

HOUSE = Path(__file__).parent.parent / "examples" / "quillet-planted.json"
DAY = date(2026, 3, 16)


def main() -> None:
    """One line a size: jobs, crews, seconds of the clock and of the processor."""
    jobs = 200
    if len(sys.argv) > 1:
        jobs = int(sys.argv[1])
    crews = 60
    if len(sys.argv) > 2:
        crews = int(sys.argv[2])
    os.environ["STUDBAY_VAR"] = tempfile.mkdtemp(prefix="studbay-bench-")
    os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)
    from config.celery import app

    app.conf.task_always_eager = True
    for size in (jobs, 2 * jobs):
        shop = _shop(size, crews * size // jobs)
        wall, own, pages = _lists(shop)
        print(
            f"{size} jobs, {crews * size // jobs} crews: {wall:.1f} s ({own:.1f} s of the "
            f"processor), {pages} lists; machine load {os.getloadavg()[0]:.1f}",
            flush=True,
        )


def _lists(shop: Any) -> tuple[float, float, int]:
    from inspections.days.lists import draw_lists
    from inspections.papers.sheets.day import day_pdf

    began, own = perf_counter(), process_time()
    lists = draw_lists(shop, DAY)
    for each in lists:
        day_pdf(each.content(), shop=shop.name)
    return perf_counter() - began, process_time() - own, len(lists)


def _shop(jobs: int, crews: int) -> Any:
    """Jobs with the items of a house that was recorded, in a plan written straight to the
    database: every crew has several houses that day.
    """
    from django.utils import timezone

    from jobs.models import Crew, Plan, PlannedWork
    from tests.people import Shopful

    made = Shopful(f"Bench {jobs}")
    plan = Plan.objects.create(
        shop=made.shop,
        asked_by=made.office,
        asked_at=timezone.now(),
        first_day=DAY,
        state=Plan.State.MADE,
        told_at=timezone.now(),
    )
    team = []
    for number in range(crews):
        team.append(Crew(shop=made.shop, name=f"Crew {number:03}", lead=made.lead))
    Crew.objects.bulk_create(team)
    work = []
    for number, area in enumerate(_areas(made, jobs)):
        work.append(
            PlannedWork(
                plan=plan,
                job_id=area.job_id,
                area=area,
                crew=team[number % crews],
                task=f"rough-in/{area.code}",
                kind="rough-in",
                name=f"rough-in, {area.name}",
                starts_on=DAY,
                start_part=number // crews % 2,
                ends_on=DAY,
                end_part=number // crews % 2,
            )
        )
    PlannedWork.objects.bulk_create(work)
    return made.shop


def _areas(made: Any, jobs: int) -> list[Any]:
    """One area of each job. The first job is recorded by the service; the others are copies."""
    from inspections.models import AreaStanding, HouseRevision, Item
    from inspections.services.houses import house_record
    from jobs.models import Area

    first = made.job("Lot 0")
    house_record(made.office, job=first, house=HOUSE.read_bytes())
    areas = list(first.areas.select_related("standing").order_by("id"))
    items, revision = list(first.items.all()), first.revisions.get()
    found = [areas[0]]
    for number in range(1, jobs):
        job = made.job(f"Lot {number}")
        copies = {}
        for area in areas:
            copies[area.id] = Area(job=job, code=area.code, name=area.name)
        Area.objects.bulk_create(copies.values())
        standings = []
        for a in areas:
            standings.append(
                AreaStanding(
                    area=copies[a.id], hold_count=a.standing.hold_count, holds=a.standing.holds
                )
            )
        AreaStanding.objects.bulk_create(standings)
        HouseRevision.objects.bulk_create([_copy(revision, job=job)])
        gathered = []
        for item in items:
            gathered.append(_copy(item, job=job, area=copies[item.area_id]))
        Item.objects.bulk_create(gathered)
        found.append(copies[areas[0].id])
    return found


def _copy(row: Any, **changed: Any) -> Any:
    """A row like another, of its own identity."""
    kept = {}
    for f in row._meta.fields:
        if f.name != "id":
            kept[f.attname] = getattr(row, f.attname)
    for name in changed:
        kept.pop(f"{name}_id")
    return type(row)(**kept, **changed)


if __name__ == "__main__":
    main()

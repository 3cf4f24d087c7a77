"""The crews' lists of one day computed and drawn as PDFs: `python -m bench.lists [JOBS] [CREWS]`.

It makes a database of its own, with houses, crews and a plan that was told; twice the size
follows, to show that the time grows no faster.
"""

import os
import sys
import tempfile
from datetime import date, timedelta
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

HOUSE = Path(__file__).parent.parent / "examples" / "quillet-planted.json"
DAY = date(2026, 3, 16)


def main() -> None:
    """One line a size: jobs, crews, seconds of the clock and of the processor."""
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    crews = int(sys.argv[2]) if len(sys.argv) > 2 else 60
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
    from inspections.days.selectors import next_day_lists
    from inspections.sheets import day_pdf

    began, own = perf_counter(), process_time()
    lists = next_day_lists(shop, DAY)
    for each in lists:
        day_pdf(each.content(), shop=shop.name)
    return perf_counter() - began, process_time() - own, len(lists)


def _shop(jobs: int, crews: int) -> Any:
    """Every crew has three houses that day, in a plan written straight to the database."""
    from django.db import transaction
    from django.utils import timezone

    from inspections.services import house_record
    from jobs.models import Crew, CrewPlace, Plan, PlannedWork, Role
    from jobs.services import job_open, person_add
    from tests.people import Shopful

    made = Shopful(f"Bench {jobs}")
    house = HOUSE.read_bytes()
    with transaction.atomic():
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
            crew = Crew.objects.create(shop=made.shop, name=f"Crew {number:03}", lead=made.lead)
            person = person_add(
                shop=made.shop,
                username=f"p{jobs}-{number}",
                full_name=f"Person {number}",
                role=Role.CREW_MEMBER,
                password="x",
            )
            CrewPlace.objects.create(crew=crew, person=person, from_day=DAY - timedelta(days=30))
            team.append(crew)
        for number in range(jobs):
            job = job_open(
                made.office,
                shop=made.shop,
                name=f"Lot {number}",
                address=f"{number} Quillet Lane",
                contractor=made.firm,
                authority=made.authority,
            )
            house_record(made.office, job=job, house=house)
            area = job.areas.order_by("id").first()
            PlannedWork.objects.create(
                plan=plan,
                job=job,
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
    return made.shop


if __name__ == "__main__":
    main()

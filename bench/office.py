"""The office's day with 500 open jobs of 10,000 against a bare list of the same rows:
`python -m bench.office [OPEN] [ALL]`.

Both are asked of the same site in turn, signed in, through every middleware. The floor reads the
open jobs with what stands beside them and their areas, as Django does it, and lists them.
"""

import sys
from datetime import timedelta
from typing import Any

from bench.__main__ import Row, measured_in_turn

ROUNDS = 15
GOAL = 2.0
LARGEST = 250_000
"""Bytes of the page with its style, script and typeface, over the wire as they are."""
HOLD = {
    "reason": "open",
    "says": {"id": "holds.open", "with": {"n": 3}},
    "lifted_by": [{"who": "crew", "how": {"id": "holds.open.lift"}}],
}


def main() -> int:
    """Print both times, their ratio, and what the page weighs."""
    from bench.site import surroundings

    count = 500
    if len(sys.argv) > 1:
        count = int(sys.argv[1])
    every = 10_000
    if len(sys.argv) > 2:
        every = int(sys.argv[2])
    with surroundings():
        found = page_rows(count, every)
    for what, ours, floor, goal in found:
        print(f"{what}: ours {ours:,.0f}, floor {floor:,.0f}, ratio {ours / floor:.2f} ({goal})")
    return int(any(ours / floor > goal for _, ours, floor, goal in found))


def page_rows(count: int = 500, every: int = 10_000, rounds: int = ROUNDS) -> list[Row]:
    """The time of the page, and its bytes against the most that they may be."""
    from django.test import Client
    from django.urls import path

    from config import urls

    shop = _shop(count, every)
    urls.urlpatterns.append(path("bare/", _bare))
    client = Client(headers={"host": "localhost"})
    client.force_login(shop.office)
    times = measured_in_turn(
        lambda: _get(client, "/today/"), lambda: _get(client, "/bare/"), rounds
    )
    return [
        (f"office page, {count} open of {every:,}: a list of the same rows", *times, GOAL),
        (f"bytes of the page and its files: {LARGEST:,}", _weight(client), LARGEST, 1),
    ]


def _get(client: Any, path: str) -> bytes:
    answer = client.get(path)
    assert answer.status_code == 200, answer.status_code
    content: bytes = answer.content
    return content


def _weight(client: Any) -> int:
    """The page and every file that it asks for."""
    import re

    text = _get(client, "/today/").decode()
    files = set(re.findall(r'(?:href|src)="(/static/[^"]+)"', text))
    for each in ("Regular", "SemiBold"):
        files.add(f"/static/fonts/IBMPlexSansCondensed-{each}.woff2")
    found = []
    for name in files:
        found.append(b"".join(client.get(name).streaming_content))
    return len(text.encode()) + sum(map(len, found))


def _bare(request: Any) -> Any:
    """The same rows as a list, with the same template engine."""
    from django.http import HttpResponse
    from django.template import engines

    from jobs.models import Job

    found = (
        Job.objects.filter(shop__memberships__person=request.user)
        .exclude(permit__closed_on__isnull=False)
        .select_related("standing", "permit", "builder", "authority", "crew_lead")
        .prefetch_related("areas__standing", "inspections__events")
        .order_by("drywall_on", "id")
    )
    template = engines["django"].from_string(
        "<ul>{% for job in jobs %}<li>{{ job.name }}, {{ job.address }}, {{ job.standing.stage }}"
        "{% for area in job.areas.all %} {{ area.name }} {{ area.standing.released }}{% endfor %}"
        "{% for inspection in job.inspections.all %} {{ inspection.kind }}"
        "{% for event in inspection.events.all %}"
        " {{ event.happening }} {{ event.starts_at }}{% endfor %}{% endfor %}</li>{% endfor %}</ul>"
    )
    return HttpResponse(template.render({"jobs": found}, request))


def _shop(count: int, every: int) -> Any:
    """A shop with so many jobs, the open ones at every stage, most with an inspection ahead."""
    from django.utils import timezone

    from inspections.models import JobStanding
    from jobs.models import Job, Permit
    from tests.people import Shopful

    shop, today = Shopful("Bench"), timezone.now().date()
    jobs = []
    for n in range(every):
        jobs.append(
            Job(
                shop=shop.shop,
                name=f"Lot {n}",
                address=f"{n} Quillet Lane, Fernhollow",
                time_zone="America/Edmonton",
                builder=shop.firm,
                authority=shop.authority,
                crew_lead=shop.lead,
                drywall_on=today + timedelta(days=n % 40 - 4),
            )
        )
    Job.objects.bulk_create(jobs, batch_size=500)
    standings = []
    for job in jobs:
        standings.append(JobStanding(job=job, stage="rough-in"))
    JobStanding.objects.bulk_create(standings)
    permits = []
    for n, job in enumerate(jobs):
        permits.append(
            Permit(
                job=job,
                applied_on=today - timedelta(days=60),
                issued_on=today - timedelta(days=50),
                number=f"E-{n}",
                closed_on=None if n < count else today,
            )
        )
    Permit.objects.bulk_create(permits)
    _stand(shop, jobs, count)
    return shop


def _stand(shop: Any, jobs: list[Any], count: int) -> None:
    """Areas with their holds, and an inspection of each job."""
    from django.utils import timezone

    from inspections.models import AreaStanding, Inspection, InspectionEvent
    from jobs.models import Area

    now = timezone.now()
    areas = []
    for job in jobs:
        for code in "abc":
            areas.append(Area(job=job, code=code, name=f"Area {code}"))
    Area.objects.bulk_create(areas, batch_size=500)
    standings = []
    for n, area in enumerate(areas):
        standings.append(
            AreaStanding(area=area, hold_count=n % 3, released=n % 3 == 0, holds=[HOLD] * (n % 3))
        )
    AreaStanding.objects.bulk_create(standings)
    inspections = []
    for job in jobs:
        inspections.append(Inspection(job=job, kind="rough_in", asked_at=now, asked_by=shop.office))
    Inspection.objects.bulk_create(inspections, batch_size=500)
    events = []
    for n, inspection in enumerate(inspections):
        events.append(
            InspectionEvent(
                inspection=inspection,
                happening="booked" if n < count else "held",
                starts_at=now + timedelta(days=n % 20),
                ends_at=now + timedelta(days=n % 20, hours=2),
                recorded_by=shop.office,
                recorded_at=now,
            )
        )
    InspectionEvent.objects.bulk_create(events)
    throughs = []
    for n, inspection in enumerate(inspections):
        throughs.append(
            Inspection.areas.through(inspection_id=inspection.id, area_id=areas[3 * n].id)
        )
    Inspection.areas.through.objects.bulk_create(throughs)


if __name__ == "__main__":
    sys.exit(main())

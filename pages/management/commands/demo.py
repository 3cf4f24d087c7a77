"""Load the demo scenario and show the main job on it."""

from collections import Counter
from contextlib import nullcontext
from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand

from config.broker import broker_at_hand
from config.languages import say
from inspections.checker.finding import Verdict
from inspections.conclusions.signs import area_sign, job_age
from inspections.papers.documents import job_checklist_pdf
from inspections.selectors import latest_revision, live_cover_releases
from inspections.standing.age import Sign
from inspections.standing.shown_messages import verdict_shown
from jobs.models import Job
from notifications.models import Channel
from notifications.services.wishes import address_add
from pages.management.scenario import PASSWORD, scenario_load

SCENARIO = Path(__file__).resolve().parents[3] / "examples" / "scenario.toml"
WHO = {"office": "office", "crew lead": "lead", "builder": "builder"}


class Command(BaseCommand):
    """Load what is not there yet; print stage, areas, findings and sheets of each job."""

    help = "Load the demo scenario and print where each of its jobs stands."

    def handle(self, *args: str, **options: str) -> None:
        embedded = not settings.ENVIRONMENT.redis_url
        with broker_at_hand(settings.VAR) if embedded else nullcontext():
            jobs = scenario_load(SCENARIO)
            self._addresses(jobs)
        for job in jobs:
            self._report(Job.objects.select_related("shop", "standing").get(id=job.id))
        self.stdout.write("")
        for role, name in WHO.items():
            self.stdout.write(f"sign in as {role}: {name} / {PASSWORD}")

    def _addresses(self, jobs: list[Job]) -> None:
        """Let everybody of the demo be written to; without a mail server that makes files."""
        for shop in {job.shop_id: job.shop for job in jobs}.values():
            for membership in shop.memberships.select_related("person"):
                person = membership.person
                if not person.addresses.exists():
                    target = f"{person.username}@studbay.example"
                    address_add(
                        person, person=person, shop=shop, channel=Channel.EMAIL, target=target
                    )

    def _report(self, job: Job) -> None:
        self.stdout.write(f"\n{job.name} ({job.shop}): {job.standing.stage}")
        cover_releases = live_cover_releases(job)
        for area in job.areas.select_related("standing", "job__standing").order_by("id"):
            said = area_sign(area)
            if said is Sign.UNCHECKED:
                self.stdout.write(
                    f"  NOT CHECKED   {area.name}: {say(job_age(job).words(job.time_zone))}"
                )
                continue
            if said is Sign.CLEAR:
                self.stdout.write(
                    f"  OK TO COVER   {area.name}: {cover_releases[area.id].reference}"
                )
                continue
            reasons = []
            for hold in area.standing.holds:
                reasons.append(say(hold["says"]))
            waiting = ["Nothing holds it. The office has not released it yet."]
            self.stdout.write(f"  DO NOT COVER  {area.name}: {' '.join(reasons or waiting)}")
        counts = _verdict_counts(job)
        parts = []
        for verdict, n in counts.items():
            parts.append(f"{n} {say(verdict_shown(verdict))}")
        self.stdout.write("  " + ", ".join(parts))
        self.stdout.write(f"  checklist: {self._sheet(job)}")

    def _sheet(self, job: Job) -> Path:
        folder = settings.VAR / "sheets"
        folder.mkdir(exist_ok=True)
        name = job.name.lower().replace(",", "").replace(" ", "-")
        path = folder / f"{name}-checklist.pdf"
        revision = latest_revision(job)
        assert revision is not None  # every house of the demo has one
        path.write_bytes(job_checklist_pdf(job, revision))
        return path


def _verdict_counts(job: Job) -> dict[str, int]:
    """How many current items have each verdict."""
    counts = Counter(job.items.filter(current=True).values_list("verdict", flat=True))
    by_verdict: dict[str, int] = {}
    for verdict in Verdict:
        by_verdict[verdict.value] = counts[verdict.value]
    return by_verdict

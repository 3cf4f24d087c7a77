"""Many hands on one area at once: never a live release with a hold, at any committed moment."""

import random
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from threading import Event, Thread

import pytest
from django.db import connection, connections, transaction
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.conclusions.areas import area_holds
from inspections.models import AreaStanding, CoverRelease, Observation, Outcome
from inspections.services.cover_releases import Held, cover_release_issue
from inspections.services.observations import item_observe
from inspections.services.settling import job_settle
from inspections.tasks import DOORBELL, queue_settling
from jobs.models import Area
from jobs.signals import facts_changed
from tests.audit.audited import audited

THREADS, OPERATIONS = 16, 2_000  # `make test` takes a third of them

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


class Watcher(Thread):
    """Looks, in snapshots of committed rows, for a live cover release beside a hold."""

    def __init__(self, area: Area) -> None:
        super().__init__()
        self.area, self.enough = area, Event()
        self.broken: list[str] = []
        self.looks = self.seen_clear = self.seen_held = 0

    def run(self) -> None:
        while not self.enough.wait(0.02):
            with transaction.atomic():
                with connection.cursor() as cursor:
                    cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
                live = CoverRelease.objects.filter(
                    area=self.area, withdrawn_at__isnull=True
                ).exists()
                found = area_holds(self.area, timezone.now())
                standing = AreaStanding.objects.get(area=self.area)
            self.looks += 1
            self.seen_clear += live
            self.seen_held += bool(found)
            if (live and found) or standing.released != live or standing.hold_count != len(found):
                self.broken.append(f"live {live}, holds {found}, copy {standing}")
        connections.close_all()


class Settler(Thread):
    """Settles the job over and over, as a worker does that has heard the doorbell."""

    def __init__(self, area: Area) -> None:
        super().__init__()
        self.area, self.enough, self.times = area, Event(), 0

    def run(self) -> None:
        while not self.enough.wait(0.05):
            job_settle(self.area.job_id)
            self.times += 1
        connections.close_all()


@pytest.fixture
def doorbell_off() -> Iterator[None]:
    """Settling is left to a thread of its own."""
    facts_changed.disconnect(dispatch_uid=DOORBELL)
    yield
    facts_changed.connect(queue_settling, dispatch_uid=DOORBELL)


@pytest.mark.usefixtures("doorbell_off")
def test_sixteen_threads_fail_pass_and_release_one_area(shop, house_bytes, whole) -> None:
    operations = OPERATIONS if whole else OPERATIONS // 3
    operations -= operations % THREADS
    job = shop.roughed_in(house_bytes)
    area = Area.objects.select_related("job__shop").get(job=job, code="bedroom")
    looks = list(area.items.filter(verdict=Verdict.VERIFY).select_related("job__shop", "area"))
    drawn = area.items.filter(verdict=Verdict.OK, workmanship=True)
    other = list(drawn.select_related("job__shop", "area")[:2])
    items = looks[:3] + other  # few enough that all of them stand passed now and then
    shop.look_at(area)
    shop.accept(area)
    before = Observation.objects.count()

    def work(seed: int) -> tuple[int, int, int]:
        dice = random.Random(seed)
        seen = released = refused = 0
        for _ in range(operations // THREADS):
            if dice.random() < 0.4:
                try:
                    cover_release_issue(shop.office, area=area)
                    released += 1
                except Held:
                    refused += 1
            else:
                outcome = Outcome.OK if dice.random() < 0.8 else Outcome.FIX
                item_observe(shop.lead, item=dice.choice(items), outcome=outcome)
                seen += 1
        connections.close_all()
        return seen, released, refused

    watcher, settler = Watcher(area), Settler(area)
    watcher.start()
    settler.start()
    with ThreadPoolExecutor(THREADS) as pool:
        done = list(pool.map(work, range(THREADS)))
    for thread in (watcher, settler):
        thread.enough.set()
        thread.join()

    seen, released, refused = (sum(counts) for counts in zip(*done, strict=True))
    assert seen + released + refused == operations
    assert watcher.broken == []
    assert watcher.looks > 50
    assert settler.times > 10
    assert watcher.seen_clear
    assert watcher.seen_held
    assert released
    assert refused
    assert Observation.objects.count() == before + seen
    assert audited() == []

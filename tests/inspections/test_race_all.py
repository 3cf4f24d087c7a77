"""Thirty-two clients and every service that can bring or lift a hold, on one job at once."""

import multiprocessing
import random
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Event, Thread
from typing import Any
from uuid import UUID

import pytest
from django.core.exceptions import ValidationError
from django.db import DatabaseError, connection, connections, transaction
from django.utils import timezone

from inspections.conclusions.areas import area_holds
from inspections.models import (
    Answer,
    AreaStanding,
    CoverRelease,
    Deficiency,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    JobStanding,
    Observation,
    Outcome,
)
from inspections.record.chain import record_faults
from inspections.services.acceptances import acceptance_waive
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import (
    Held,
    NotReleased,
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import ItemsOpen, inspection_ask, inspection_happen
from inspections.services.insulation import insulation_choose
from inspections.services.observations import NothingToPass, item_observe, items_observe
from inspections.services.permits import permit_extend
from inspections.services.settling import job_settle
from inspections.services.trades import trade_report
from jobs.models import Area, Job, Person
from tests.audit.audited import audited
from tests.clocks import house_day
from tests.inspections.test_race import doorbell_off  # noqa: F401  a fixture
from tests.inspections.tiny import HOUSES

PROCESSES, THREADS, OPERATIONS = 2, 16, 10_000
REFUSED = (Held, ItemsOpen, NotReleased, NothingToPass, ValidationError)

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


class Client:
    """Somebody who does things to the job, one after the other, by dice."""

    def __init__(self, job_id: UUID, office_id: UUID, seed: int) -> None:
        self.job = Job.objects.select_related("shop", "authority").get(id=job_id)
        self.office = Person.objects.get(id=office_id)
        self.dice = random.Random(seed)
        self.seed = seed
        self.areas = list(Area.objects.filter(job=job_id).select_related("job__shop"))
        self.items = list(Item.objects.filter(job=job_id).select_related("job__shop"))

    def run(self, times: int) -> dict[str, int]:
        """Call services so many times; count what was done, refused or broken."""
        counts = {"done": 0, "refused": 0, "broken": 0, "seen": 0, "released": 0}
        acts = (
            [self.observe] * 7
            + [self.walk] * 2
            + [self.release] * 5
            + [self.waive] * 2
            + [self.inspection] * 2
        )
        acts += [
            self.withdraw,
            self.answer,
            self.answer,
            self.correct,
            self.correct,
            self.trade,
            self.extend,
            self.house,
        ]
        acts += [self.insulation]
        acts += [self.settle]
        while counts["done"] + counts["refused"] < times:
            act = self.dice.choice(acts)
            try:
                if act == self.walk:
                    counts["seen"] += act()
                    counts["done"] += 1
                    continue
                counts["done"] += act() or 1
                counts["seen"] += act == self.observe
                counts["released"] += act == self.release
            except REFUSED:
                counts["refused"] += 1
            except DatabaseError:
                counts["broken"] += 1
        connections.close_all()
        return counts

    def observe(self) -> None:
        outcome = Outcome.OK if self.dice.random() < 0.9 else Outcome.FIX
        item_observe(self.office, item=self.dice.choice(self.items), outcome=outcome)

    def walk(self) -> int:
        """Every item of an area is looked at and good: or a fail would stand for ever."""
        area = self.dice.choice(self.areas)
        there = [item for item in self.items if item.area_id == area.id]
        return len(items_observe(self.office, items=there, outcome=Outcome.OK))

    def release(self) -> None:
        cover_release_issue(self.office, area=self.dice.choice(self.areas))

    def withdraw(self) -> None:
        cover_release_withdraw(self.office, area=self.dice.choice(self.areas), because="race")

    def waive(self) -> None:
        area = self.dice.choice(self.areas)
        acceptance_waive(self.office, area=area, reference=f"W{self.seed}")

    def inspection(self) -> int:
        areas = self.dice.sample(self.areas, self.dice.randint(1, 2))
        given: dict[str, Any] = {"kind": InspectionKind.ROUGH_IN, "areas": areas, "insist": True}
        inspection = inspection_ask(self.office, job=self.job, **given)
        starts = timezone.now() - timedelta(hours=1)
        inspection_happen(
            self.office,
            inspection=inspection,
            happening=Happening.BOOKED,
            starts_at=starts,
            ends_at=starts + timedelta(hours=2),
        )
        good = self.dice.random() < 0.6
        corrected = Deficiency.objects.filter(
            job=self.job, corrected_at__isnull=False, accepted_at__isnull=True
        )
        inspection_answer(
            self.office,
            inspection=Inspection.objects.select_related("job__shop").get(id=inspection.id),
            answers=dict.fromkeys(areas, Answer.ACCEPTED if good else Answer.NOT_ACCEPTED),
            reference=f"R{self.seed}",
            called=[] if good else [Called(areas[0], "no plate")],
            lifted=list(corrected) if good else [],
        )
        return 3

    def answer(self) -> int:
        by_hand = CoverRelease.objects.filter(area__in=self.areas, withdrawn_by__isnull=False)
        waiting = list(by_hand.filter(withdrawal_answer=None).select_related("area__job__shop"))
        for cover_release in waiting[:1]:
            again = self.dice.random() < 0.3
            withdrawal_answer(
                self.office, cover_release=cover_release, says="put back", inspect_again=again
            )
        return 1

    def correct(self) -> int:
        called = Deficiency.objects.filter(job=self.job, corrected_at__isnull=True)
        some = list(called.select_related("job__shop")[:3])
        for deficiency in some:
            deficiency_correct(self.office, deficiency=deficiency)
        return len(some)

    def trade(self) -> None:
        done = self.dice.random() < 0.9
        trade_report(self.office, job=self.job, trade="plumbing", done=done)

    def extend(self) -> None:
        ends = house_day(self.dice.randint(1, 3000))
        permit_extend(self.office, permit=self.job.permit, expires_on=ends)

    def house(self) -> None:
        name = self.dice.choice(["clean", "clean", "clean", "rerouted", "short"])
        house_record(self.office, job=self.job, house=HOUSES[name])

    def insulation(self) -> None:
        barrier = self.dice.random() < 0.8
        insulation_choose(self.office, job=self.job, kind="batts", vapour_barrier=barrier)

    def settle(self) -> None:
        job_settle(self.job.id)


def process(given: tuple[UUID, UUID, int, int]) -> dict[str, int]:
    """One process of clients, each in a thread."""
    job_id, office_id, number, operations = given
    connections.close_all()

    def client(thread: int) -> dict[str, int]:
        seed = number * THREADS + thread
        return Client(job_id, office_id, seed).run(operations // (PROCESSES * THREADS))

    with ThreadPoolExecutor(THREADS) as pool:
        return _sum(pool.map(client, range(THREADS)))


def _sum(all_counts) -> dict[str, int]:
    total: dict[str, int] = {}
    for counts in all_counts:
        for name, count in counts.items():
            total[name] = total.get(name, 0) + count
    return total


class Watcher(Thread):
    """Looks, in snapshots of committed rows, for a live cover release beside a hold."""

    def __init__(self, job_id: UUID) -> None:
        super().__init__()
        self.job_id, self.enough = job_id, Event()
        self.broken: list[str] = []
        self.looks = self.clear = self.held = 0

    def run(self) -> None:
        while not self.enough.wait(0.05):
            with transaction.atomic():
                with connection.cursor() as cursor:
                    cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
                for area in Area.objects.filter(job=self.job_id).select_related(
                    "job__shop", "job__authority", "standing"
                ):
                    self.look(area)
        connections.close_all()

    def look(self, area: Area) -> None:
        live = CoverRelease.objects.filter(area=area, withdrawn_at__isnull=True).exists()
        found = area_holds(area, timezone.now())
        self.looks += 1
        self.clear += live
        self.held += bool(found)
        if (live and found) or area.standing.released != live:
            self.broken.append(f"{area}: live {live}, holds {found}")


@pytest.mark.usefixtures("doorbell_off")
def test_every_service_at_once(shop, whole: bool) -> None:
    operations = OPERATIONS if whole else OPERATIONS // 10
    shop.shop.trades = ["plumbing"]
    shop.shop.save()
    job = shop.roughed_in(HOUSES["clean"])
    before = Observation.objects.count()
    watcher = Watcher(job.id)
    connections.close_all()
    with multiprocessing.get_context("fork").Pool(PROCESSES) as pool:
        waiting = pool.map_async(
            process, [(job.id, shop.office.id, number, operations) for number in range(PROCESSES)]
        )
        watcher.start()
        counts = _sum(waiting.get())
    watcher.enough.set()
    watcher.join()

    assert counts["broken"] == 0, counts
    assert counts["done"] + counts["refused"] >= operations // 32 * 32
    assert watcher.broken == []
    assert min(watcher.clear, watcher.held, counts["released"]) > 0
    assert Observation.objects.count() == before + counts["seen"]
    assert list(record_faults(job.id)) == []
    job_settle(job.id)
    for standing in AreaStanding.objects.filter(area__job=job).select_related("area__job"):
        assert standing.hold_count == len(area_holds(standing.area, timezone.now()))
    standing = JobStanding.objects.get(job=job)
    assert standing.settled == standing.facts
    assert audited() == []

"""Two weeks in which everything happens that somebody is told of, swept as beat does."""

from collections.abc import Callable
from contextlib import ExitStack
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from unittest.mock import patch
from uuid import UUID
from zoneinfo import ZoneInfo

from audit.auditor import audit_jobs
from audit.crossings import crossings_of_shop
from audit.found import Sort
from audit.nightly import NAMES
from inspections.checker.finding import Verdict
from inspections.conclusions.areas import job_stage
from inspections.models import (
    Answer,
    AuditedShop,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    JobStanding,
    Outcome,
)
from inspections.selectors import inspection_read
from inspections.services import settling
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.observations import items_observe
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.settling import job_settle
from inspections.standing.stages import Milestone
from inspections.tasks import settle_due
from jobs.models import Area, Job, Shop
from jobs.signals import shop_audited
from notifications.models import Delivery, Notice, State
from notifications.services.outbox import address_pause, dead
from notifications.tasks import tick
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.inspections.windows import Window
from tests.isolation.world import NOW, World
from tests.sure import sure

HOME = ZoneInfo("America/Edmonton")
HOURS = (time(7), time(7, 40), time(12), time(16), time(16, 40))
DAYS = 17
Act = Callable[[], object]


def at(day: int, hour: int) -> datetime:
    """That hour of that day of March at the houses."""
    return datetime(2026, 3, day, hour, tzinfo=HOME).astimezone(UTC)


class Weeks:
    """The shop of the world from its Monday on."""

    def __init__(self, world: World, clock: Clock) -> None:
        self.world, self.shop, self.clock = world, world.shop, clock
        self.inspections: dict[str, Inspection] = {}
        self.broken = ExitStack()

    def play(self) -> None:
        """Everything, day by day."""
        with self.broken:
            self._play()

    def _play(self) -> None:
        acts = self._acts()
        for ahead in range(DAYS):
            day = date(2026, 3, 16) + timedelta(days=ahead)
            for hour in HOURS:
                moment = datetime.combine(day, hour, HOME).astimezone(UTC)
                if moment < NOW:
                    continue
                self.clock.now = moment
                for act in acts.pop((day.day, hour), ()):
                    act()
                sweep()
        assert not acts, acts

    def told(self) -> set[tuple[str, str]]:
        """Each reason that went out, with the channel by which it did."""
        sent = Delivery.objects.filter(shop=self.shop.shop, state=State.SENT)
        return set(sent.values_list("notices__reason", "channel"))

    def given(self) -> set[str]:
        """Each reason for which somebody was told something, on the site at the least."""
        return set(Notice.objects.filter(shop=self.shop.shop).values_list("reason", flat=True))

    def _acts(self) -> dict[tuple[int, time], list[Act]]:
        noon, evening, last, morning = time(12), time(16), time(16, 40), time(7, 40)
        return {
            (16, noon): [self.open_two, self.withdraw, self.finish_accepted],
            (16, evening): [self.pause_and_give_up, self.all_looked_at],
            (17, noon): [self.finish_seen, self.ask_and_book, self.answer_withdrawal],
            (17, evening): [self.move, self.cancel],
            (18, noon): [self.break_settling],
            (18, last): [self.settling_works],
            (19, noon): [self.no_access],
            (20, noon): [self.nobody_came, self.call],
            (20, evening): [self.audit],
            (23, noon): [self.correct, self.temporary_gone],
            (24, morning): [self.certificate],
        }

    def open_two(self) -> None:
        """A house that is begun without a permit, and one whose permit ends soon."""
        self.bare = self.shop.job("Lot 17")
        permit_apply(self.shop.office, job=self.bare, applied_on=date(2026, 3, 3))
        house_record(self.shop.lead, job=self.bare, house=HOUSES["short"])
        self.job = self.shop.job("Lot 18")
        self.job.drywall_on = date(2026, 3, 26)
        self.job.save()
        permit = permit_apply(self.shop.office, job=self.job, applied_on=date(2026, 3, 3))
        days = {"issued_on": date(2026, 3, 4), "expires_on": date(2026, 4, 15)}
        permit_issue(self.shop.office, permit=permit, number="FH-3", **days)
        house_record(self.shop.lead, job=self.job, house=HOUSES["clean"])

    def withdraw(self) -> None:
        area = self._area(self.world.job, "bedroom")
        cover_release_withdraw(self.shop.office, area=area, because="a plumber drilled a stud")

    def finish_accepted(self) -> None:
        inspection = inspection_read(self.shop.office, self.world.ids["begun_inspection"])
        inspection_answer(
            self.shop.office, inspection=inspection, answer=Answer.ACCEPTED, reference="F-1"
        )

    def pause_and_give_up(self) -> None:
        address_pause(self.shop.other_builder.addresses.get().id, "it came back")
        waiting = Delivery.objects.filter(shop=self.shop.shop, person=self.shop.builder)
        dead(sure(waiting.order_by("id").last()), "the mail server answered 554")

    def all_looked_at(self) -> None:
        for code in ("east", "west"):
            self.shop.look_at(self._area(self.job, code))

    def finish_seen(self) -> None:
        cancelled = inspection_read(self.shop.office, self.world.ids["inspection_id"])
        self._happen(cancelled, Happening.CANCELLED)
        finish = self.world.done.items.filter(
            stage=Item.Stage.FINISH, verdict=Verdict.VERIFY, current=True
        )
        items = list(finish.select_related("job__shop"))
        items_observe(self.shop.lead, items=items, outcome=Outcome.OK)

    def ask_and_book(self) -> None:
        for code, day in (("east", 18), ("west", 19)):
            area = self._area(self.job, code)
            inspection = inspection_ask(
                self.shop.office,
                job=area.job,
                kind=InspectionKind.ROUGH_IN,
                areas=[area],
                insist=True,
            )
            self._happen(inspection, Happening.BOOKED, day)
            self.inspections[code] = inspection

    def answer_withdrawal(self) -> None:
        self.shop.answer_withdrawal(self._area(self.world.taken_back, "east"))

    def break_settling(self) -> None:
        """The job cannot be settled for long enough that the office is told."""
        job_id = self.bare.id

        def broken(of: UUID, *given: Any) -> Any:
            if of == job_id:
                raise ZeroDivisionError("division by zero")
            return job_stage(of, *given)

        self.broken.enter_context(patch.object(settling, "job_stage", broken))
        settling.settled_or_set_aside(job_id)

    def settling_works(self) -> None:
        self.broken.close()

    def audit(self) -> None:
        """A copy that is false is found. One night's run is of every shop there is, and counts
        their jobs: here the auditor goes over this shop, and what it found is kept as a run does.
        """
        shop = self.shop.shop
        JobStanding.objects.filter(job=self.bare).update(stage="final")
        jobs = list(Job.objects.filter(shop=shop).order_by("id").values_list("id", flat=True))
        found = [*audit_jobs(jobs), *crossings_of_shop(shop.id)]
        wrong = [line for line in found if line.sort is Sort.DIFFERENCE]
        lines = [{name: str(getattr(line, name)) for name in NAMES} for line in wrong]
        counts = {"jobs": len(jobs), "differences": len(wrong), "states": len(found) - len(wrong)}
        at = self.clock.now
        AuditedShop.objects.create(shop=shop, audited_at=at, lines=lines, **counts)
        shop_audited.send(sender=Shop, shop_id=shop.id)
        job_settle(self.bare.id)

    def move(self) -> None:
        self._happen(self.inspections["east"], Happening.MOVED, 19)

    def cancel(self) -> None:
        self._happen(self.inspections["west"], Happening.CANCELLED, note="the road is closed")

    def no_access(self) -> None:
        self._happen(self.inspections["east"], Happening.NO_ACCESS, note="the gate was locked")
        area = self._area(self.job, "west")
        inspection = inspection_ask(
            self.shop.office, job=area.job, kind=InspectionKind.ROUGH_IN, areas=[area], insist=True
        )
        self._happen(inspection, Happening.BOOKED, 20)
        self.inspections["called"] = inspection
        garage = self._area(self.world.job, "garage")
        inspection = inspection_ask(
            self.shop.office,
            job=garage.job,
            kind=InspectionKind.ROUGH_IN,
            areas=[garage],
            insist=True,
        )
        self._happen(inspection, Happening.BOOKED, 20)
        self.inspections["missed"] = inspection

    def nobody_came(self) -> None:
        self._happen(self.inspections["missed"], Happening.NOBODY_CAME, note="no call either")

    def call(self) -> None:
        area, inspection = self._area(self.job, "west"), self.inspections["called"]
        called = [Called(area, "a staple is missing", due_on=date(2026, 3, 28))]
        inspection_answer(
            self.shop.office,
            inspection=inspection,
            answers={area: Answer.NOT_ACCEPTED},
            reference="R-9",
            called=called,
        )

    def correct(self) -> None:
        found = self.world.job.deficiencies.select_related("job__shop").get()
        deficiency_correct(self.shop.lead, deficiency=found)

    def temporary_gone(self) -> None:
        self._reach(Milestone.TEMPORARY_GONE)

    def certificate(self) -> None:
        self._reach(Milestone.FINAL, reference="C-1")

    def _reach(self, milestone: Milestone, reference: str = "") -> None:
        milestone_record(
            self.shop.office,
            job=self.world.done,
            milestone=milestone,
            reached_on=date(2026, 3, 23),
            reference=reference,
        )

    def _happen(
        self, inspection: Inspection, happening: Happening, day: int = 0, note: str = ""
    ) -> None:
        window: Window = {"starts_at": at(day, 9), "ends_at": at(day, 11)} if day else {}
        inspection_happen(
            self.shop.office, inspection=inspection, happening=happening, note=note, **window
        )

    def _area(self, job: Job, code: str) -> Area:
        return job.areas.select_related("job__shop", "job__authority").get(code=code)


def sweep() -> None:
    """One beat; what it rings is answered at once."""
    settle_due()
    tick()

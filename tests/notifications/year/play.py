"""Playing the script through the services, with a clock that moves from tick to tick."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db.models import Min

from inspections.checker.finding import Verdict
from inspections.conclusions.items import items_with_seen
from inspections.models import (
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    JobStanding,
    Outcome,
)
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import (
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.observations import item_observe, items_confirm
from inspections.services.permits import permit_apply, permit_issue
from inspections.standing.stages import Milestone
from inspections.tasks import settle_due
from jobs.models import Authority, Builder, Job, Permit, Role, Shop
from jobs.models import Person as Row
from jobs.services.authorities import authority_add
from jobs.services.jobs import job_open
from jobs.services.shops import person_add, shop_open
from notifications.models import Channel, Delivery, Habits, Lane, Notice, NoticeRules, State, Wish
from notifications.services.escalation import escalate, escalations_due
from notifications.services.notices import shop_follow, shops_due
from notifications.services.sending import deliver
from notifications.services.wishes import address_add
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.notifications.year.script import BEGIN, END, PLACES, TICK, JobScript, people
from tests.sure import sure


@dataclass
class Stage:
    """One shop of the year, with its people by name."""

    shop: Shop
    authority: Authority
    firms: list[Builder]
    cast: dict[str, Row]


def cast(place: int) -> Stage:
    """A shop with its ten people and their wishes."""
    at = PLACES[place]
    shop = shop_open(name=f"Shop {place}", time_zone=at.zone)
    authority = authority_add(
        shop=shop,
        name="Inspection office",
        country=at.country,
        region=at.region,
        notice_days=at.notice_days,
    )
    firms = [Builder.objects.create(shop=shop, name=f"Firm {n}") for n in (0, 1)]
    rows = {}
    for person in people(place):
        row = person_add(
            shop=shop,
            username=f"{person.name}-{place}",
            full_name=person.name,
            role=Role(person.role),
            password="x",
            builder=firms[person.firm] if person.firm >= 0 else None,
        )
        target = f"{row.username}@example.org"
        address_add(row, person=row, shop=shop, channel=Channel.EMAIL, target=target)
        begins, ends = person.quiet or (None, None)
        Habits.objects.create(
            person=row,
            time_zone=person.zone,
            quiet_from=begins,
            quiet_to=ends,
            digest_at=person.digest,
        )
        if person.not_told:
            Wish.objects.create(person=row, kind=person.not_told, way=Wish.Way.NOT)
        rows[person.name] = row
    NoticeRules.objects.filter(shop=shop).update(owner=rows["office"])
    return Stage(shop, authority, firms, rows)


@dataclass
class Played:
    """One job as it is played."""

    script: JobScript
    stage: Stage
    opened: Job | None = None
    inspections: dict[int, Inspection] = field(default_factory=dict)

    @property
    def job(self) -> Job:
        """The job, which is open before anything else is done with it."""
        return sure(self.opened)

    def do(self, moment: datetime, act: str, given: dict[str, Any]) -> None:
        """One line of the script, by the service that a person would use."""
        self.today = moment.astimezone(self.script.zone).date()
        self.office = self.stage.cast["office"]
        self.lead = self.stage.cast[f"lead{self.script.lead}"]
        getattr(self, "do_" + act.replace(" ", "_"))(**given)

    def do_open(self) -> None:
        self.opened = job_open(
            self.office,
            shop=self.stage.shop,
            name=self.script.name,
            address="15 Quillet Lane",
            builder=self.stage.firms[self.script.firm],
            authority=self.stage.authority,
            crew_lead=self.lead,
            drywall_on=self.script.drywall_on,
        )

    def do_apply(self) -> None:
        permit_apply(self.office, job=self.job, applied_on=self.today)

    def do_issue(self, expires) -> None:
        permit = Permit.objects.select_related("job__shop").get(job=self.job)
        dates = {"issued_on": self.today, "expires_on": expires}
        permit_issue(self.office, permit=permit, number="P-1", **dates)

    def do_house(self) -> None:
        house_record(self.lead, job=self.job, house=HOUSES["clean"])

    def do_look(self, area: str) -> None:
        self._look(stage=Item.Stage.ROUGH_IN, area__code=area)

    def do_finish(self) -> None:
        self._look(stage=Item.Stage.FINISH)

    def _look(self, **which: Any) -> None:
        items = self.job.items.filter(verdict=Verdict.VERIFY, current=True, **which)
        for item in items.select_related("job__shop", "area"):
            item_observe(self.lead, item=item, outcome=Outcome.OK)
        as_drawn = items_with_seen(
            self.job.items.filter(verdict=Verdict.OK, workmanship=True, current=True, **which)
        )
        waiting = list(as_drawn.filter(seen=None))
        items_confirm(self.lead, job=self.job, items=waiting)

    def do_ask(self, kind: str, areas: list[str], inspection: int) -> None:
        chosen = [self._area(code) for code in areas]
        self.inspections[inspection] = inspection_ask(
            self.office, job=self.job, kind=InspectionKind(kind), areas=chosen
        )

    def do_happen(self, inspection: int, what: str, window=(None, None)) -> None:
        starts, ends = window
        inspection_happen(
            self.office,
            inspection=self.inspections[inspection],
            happening=Happening(what),
            starts_at=starts,
            ends_at=ends,
        )

    def do_answer(self, inspection, kind, areas, called="", due=None, lifted=False) -> None:
        asked = self.inspections[inspection]
        reference = f"{self.script.name} {inspection}"
        if kind == "final":
            inspection_answer(
                self.office, inspection=asked, answer=Answer.ACCEPTED, reference=reference
            )
            return
        said = {
            self._area(code): Answer.WITH_DEFICIENCIES if code == called else Answer.ACCEPTED
            for code in areas
        }
        by_code = {area.code: area for area in said}
        inspection_answer(
            self.office,
            inspection=asked,
            answers=said,
            reference=reference,
            called=[Called(by_code[called], "a staple", due_on=due)] if called else [],
            lifted=list(Deficiency.objects.filter(job=self.job)) if lifted else [],
        )

    def do_correct(self) -> None:
        found = Deficiency.objects.select_related("job__shop").get(job=self.job)
        deficiency_correct(self.lead, deficiency=found)

    def do_release(self, area: str) -> None:
        cover_release_issue(self.office, area=self._area(area))

    def do_withdraw(self, area: str) -> None:
        cover_release_withdraw(self.office, area=self._area(area), because="a cable was moved")

    def do_explain(self, area: str) -> None:
        by_hand = self._area(area).cover_releases.filter(withdrawn_by__isnull=False)
        withdrawn = by_hand.select_related("area__job__shop").get(withdrawal_answer=None)
        withdrawal_answer(
            self.lead, cover_release=withdrawn, says="put back and strapped", inspect_again=False
        )

    def do_hookup(self, until) -> None:
        self._reach(Milestone.HOOKUP, reference="H", circuits=["1"], temporary_until=until)

    def do_temporary_gone(self) -> None:
        self._reach(Milestone.TEMPORARY_GONE)

    def do_certificate(self) -> None:
        self._reach(Milestone.FINAL, reference="C")

    def _reach(self, milestone: Milestone, **given: Any) -> None:
        milestone_record(
            self.office, job=self.job, milestone=milestone, reached_on=self.today, **given
        )

    def _area(self, code: str):
        return self.job.areas.select_related("job__shop", "job__authority").get(code=code)


def play(jobs: Iterable[JobScript], clock: Clock, each_tick: Callable[[], None]) -> int:
    """Play the year; how many ticks had something to do. The beat sweeps at each of them."""
    stages = {place: cast(place) for place in range(4)}
    shops = [stage.shop for stage in stages.values()]
    NoticeRules.objects.filter(shop__in=shops).update(next_at=BEGIN)
    played = [Played(script, stages[script.place]) for script in jobs]
    acts = sorted(
        (
            (moment, number, act, given)
            for number, one in enumerate(played)
            for moment, act, given in one.script.acts
        ),
        key=lambda line: line[:2],
    )
    tick, count = BEGIN, 0
    while True:
        ahead = [acts[0][0] if acts else None, *_next_moments()]
        moment = min((m for m in ahead if m is not None), default=END)
        tick = max(_tick(moment), tick + TICK) if count else _tick(moment)
        if tick >= END:
            return count
        clock.now = tick
        while acts and acts[0][0] <= tick:
            moment, number, act, given = acts.pop(0)
            played[number].do(moment, act, given)
        sweep()
        each_tick()
        count += 1


def _tick(moment: datetime) -> datetime:
    """The first tick at or after a moment."""
    return BEGIN + -(-(moment - BEGIN) // TICK) * TICK


def _next_moments() -> list[datetime | None]:
    """What the product itself says it waits for."""
    due = Delivery.objects.filter(state=State.DUE)
    return [
        JobStanding.objects.aggregate(at=Min("next_at"))["at"],
        NoticeRules.objects.aggregate(at=Min("next_at"))["at"],
        Notice.objects.aggregate(at=Min("escalate_at"))["at"],
        due.aggregate(at=Min("due_at"))["at"],
    ]


def sweep() -> None:
    """One beat."""
    settle_due()
    for shop_id in shops_due():
        shop_follow(shop_id)
    for notice_id in escalations_due():
        escalate(notice_id)
    for lane in Lane:
        deliver(lane, Channel.EMAIL)

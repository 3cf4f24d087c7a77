"""A database of many jobs to falsify by hand: one of them far along, with some of everything."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

from django.db import connection

from inspections.append_only import release
from inspections.models import (
    Answer,
    Deficiency,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    Observation,
    Photograph,
)
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_issue
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.trades import trade_report
from inspections.standing.stages import Milestone
from inspections.tasks import settle_due
from jobs.models import Area, Job
from notifications.models import Channel
from notifications.services.wishes import address_add
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.people import Shopful

BEGIN = datetime(2026, 3, 4, 17, 0, tzinfo=UTC)
"""Ten in the morning in Edmonton."""
AUDITED = BEGIN + timedelta(hours=3)
HOUR = timedelta(hours=1)
PHOTOGRAPHED = "edge-distance"


@dataclass
class World:
    """The shop, a stranger's, and the job that tests falsify."""

    shop: Shopful
    stranger: Shopful
    clock: Clock
    job: Job
    plain: Job
    """Roughed in, and nothing more."""
    theirs: Job
    """The stranger's."""
    passed: Item
    """An item of the east that was ticked at the beginning."""
    jobs: list[Job] = field(default_factory=list)

    @property
    def east(self) -> Area:
        """The area that most falsifications are about."""
        return self.job.areas.select_related("job__shop", "job__authority").get(code="east")

    @property
    def west(self) -> Area:
        """The other one."""
        return self.job.areas.select_related("job__shop", "job__authority").get(code="west")

    def look(self, outcome: str, seen: timedelta, came: timedelta, **given: Any) -> Observation:
        """A look at `passed` that no service recorded, at so long after the beginning."""
        given = {"item": self.passed, "seen_by": self.shop.lead} | given
        return Observation.objects.create(
            outcome=outcome,
            fingerprint=given["item"].fingerprint,
            seen_at=BEGIN + seen,
            recorded_at=BEGIN + came,
            **given,
        )


def world(clock: Clock, jobs: int) -> World:
    """So many jobs, settled, and nothing false in any of them."""
    clock.now = BEGIN
    shop, stranger = Shopful("Ostrander & Vale Electric"), Shopful("Lanternby Wiring")
    shop.shop.trades, shop.shop.photo_rules = ["plumbing"], [PHOTOGRAPHED]
    shop.shop.save()
    address_add(
        shop.builder,
        person=shop.builder,
        shop=shop.shop,
        channel=Channel.EMAIL,
        target="builder@studbay.example",
    )
    job = _far_along(shop)
    plain, theirs = _roughed_in(shop, "Lot 2"), _roughed_in(stranger, "Lot 3")
    others = [_roughed_in(stranger, f"Lot {number}") for number in range(4, jobs + 1)]
    clock.now = AUDITED
    settle_due()
    passed = job.items.get(rule="staples", area__code="east")
    return World(shop, stranger, clock, job, plain, theirs, passed, [job, plain, theirs, *others])


def _roughed_in(shop: Shopful, name: str) -> Job:
    job = shop.job(name)
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 1, 5))
    permit_issue(
        shop.office,
        permit=permit,
        number="FH-1",
        issued_on=date(2026, 1, 12),
        expires_on=date(2026, 9, 1),
    )
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    return job


def _far_along(shop: Shopful) -> Job:
    """Both areas released, one of them a second time, and the hookup authorised."""
    job = _roughed_in(shop, "Lot 1")
    east, west = (job.areas.get(code=code) for code in ("east", "west"))
    trade_report(shop.office, job=job, trade="plumbing")
    for area in (east, west):
        shop.look_at(area)
    _photographed(shop, job)
    said = {east: Answer.WITH_DEFICIENCIES, west: Answer.ACCEPTED}
    inspection = shop.booked(east, west, insist=True)
    called = [Called(east, "no plate at the notch", due_on=date(2026, 3, 20))]
    inspection_answer(
        shop.office, inspection=inspection, answers=said, reference="R1", called=called
    )
    deficiency = Deficiency.objects.get(job=job)
    deficiency_correct(shop.lead, deficiency=deficiency)
    again = shop.booked(east, insist=True)
    inspection_answer(
        shop.office,
        inspection=again,
        reference="R2",
        answers={east: Answer.ACCEPTED},
        lifted=[deficiency],
    )
    for area in (east, west):
        cover_release_issue(shop.office, area=area)
    shop.withdraw(west)
    shop.answer_withdrawal(west)
    cover_release_issue(shop.office, area=west)

    inspection_answer(
        shop.office,
        inspection=_hookup_inspection(shop, job),
        answer=Answer.ACCEPTED,
        reference="H1",
    )
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reference="H1",
        circuits=["1"],
        reached_on=BEGIN.date(),
    )
    return job


def _photographed(shop: Shopful, job: Job) -> None:
    """Rows alone: nothing that an audit reads is in the files."""
    for item in job.items.filter(rule=PHOTOGRAPHED):
        given = {"digest": "0" * 64, "taken_by": shop.lead, "recorded_at": BEGIN}
        Photograph.objects.create(item=item, fingerprint=item.fingerprint, **given)


def _hookup_inspection(shop: Shopful, job: Job) -> Inspection:
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.HOOKUP)
    inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=BEGIN - HOUR,
        ends_at=BEGIN + HOUR,
    )
    return inspection


def editable(table: str) -> None:
    """Let rows be edited that the database keeps as they are; a rollback makes it keep them."""
    release(connection, [table])

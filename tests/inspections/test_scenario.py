"""One house from application to close-out, each day's conclusions against a table by hand.

The authority asks two working days and comes on Mondays and Wednesdays. Monday 16 February
2026 is Family Day in Alberta; on Sunday 8 March the clocks go forward.
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from inspections.conclusions.areas import today_at
from inspections.models import (
    Answer,
    AreaStanding,
    Deficiency,
    Happening,
    InspectionKind,
    Item,
    JobStanding,
    Outcome,
)
from inspections.overview.inspections import earliest_inspection_of
from inspections.record.chain import record_faults
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_issue
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.observations import items_observe
from inspections.services.permits import permit_apply, permit_close, permit_issue
from inspections.standing.stages import Milestone
from inspections.tasks import settle_due
from jobs.services.authorities import authority_add
from tests.audit.audited import audited
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
ZONE = ZoneInfo("America/Edmonton")

# day, hour, what happens, stage after it, east after it, west after it
TABLE = [
    ("02-02 09:00", "apply", "permit", None, None),
    ("02-09 09:00", "issue", "rough-in", None, None),
    ("02-10 17:00", "record short", "rough-in", "fix open open acceptance", "open open acceptance"),
    ("02-11 17:00", "record clean", "rough-in", "open open acceptance", "open open acceptance"),
    ("02-12 14:30", "look", "rough-in", "open acceptance", "open acceptance"),
    ("02-12 15:00", "confirm", "cover-up approval", "acceptance", "acceptance"),
    ("02-12 15:10", "ask both", "cover-up approval", "acceptance", "acceptance"),
    ("02-18 12:00", "fail both", "cover-up approval", "deficiency acceptance", "acceptance"),
    ("02-19 12:00", "correct", "cover-up approval", "deficiency acceptance", "acceptance"),
    ("02-19 12:30", "ask both", "cover-up approval", "acceptance deficiency", "acceptance"),
    ("02-25 12:00", "accept west only", "cover-up approval", "acceptance deficiency", ""),
    ("02-25 13:00", "release west", "cover-up approval", "acceptance deficiency", "CLEAR"),
    ("03-05 10:00", "ask east", "cover-up approval", "acceptance deficiency", "CLEAR"),
    ("03-09 09:30", "accept east", "cover-up approval", "", "CLEAR"),
    ("03-09 10:00", "release east", "construction hookup", "CLEAR", "CLEAR"),
    ("03-11 10:00", "hookup", "finish", "CLEAR", "CLEAR"),
    ("03-12 10:00", "record rerouted", "rough-in", "open changed", "CLEAR"),
    ("03-12 11:00", "look", "cover-up approval", "changed", "CLEAR"),
    ("03-12 11:10", "ask east", "cover-up approval", "changed", "CLEAR"),
    ("03-16 10:00", "accept east", "cover-up approval", "", "CLEAR"),
    ("03-16 10:30", "release east", "finish", "CLEAR", "CLEAR"),
    ("04-20 10:00", "finish", "final", "CLEAR", "CLEAR"),
    ("04-27 10:00", "final", "final", "CLEAR", "CLEAR"),
    ("04-28 10:00", "close", "final", "CLEAR", "CLEAR"),
    ("09-01 10:00", "nothing", "final", "CLEAR", "CLEAR"),
]
FIRST_WINDOWS = {
    "02-12 15:10": "2026-02-18T08:00:00-07:00",  # Friday and Tuesday count; Monday is a holiday
    "02-19 12:30": "2026-02-23T08:00:00-07:00",
    "03-05 10:00": "2026-03-09T08:00:00-06:00",  # the clocks have gone forward
    "03-12 11:10": "2026-03-16T08:00:00-06:00",
}


class Office:
    """Does what a line of the table says."""

    def __init__(self, shop) -> None:
        self.shop, self.person = shop, shop.office
        shop.authority = authority_add(
            shop=shop.shop, name="Town office", template="prairie-town-two-days"
        )
        self.job = shop.job()
        self.inspections = 0

    def area(self, code: str):
        return self.job.areas.select_related("job__shop", "job__authority").get(code=code)

    def apply(self) -> None:
        self.permit = permit_apply(self.person, job=self.job, applied_on=date(2026, 2, 2))

    def issue(self) -> None:
        issued, ends = date(2026, 2, 9), date(2026, 8, 9)
        self.permit = permit_issue(
            self.person, permit=self.permit, number="T-1", issued_on=issued, expires_on=ends
        )

    def record(self, name: str) -> None:
        house_record(self.shop.lead, job=self.job, house=HOUSES[name])

    def look(self, stage: str = "rough-in") -> None:
        looks = self.job.items.filter(verdict="verify", stage=stage)
        items_observe(
            self.shop.member, items=list(looks.select_related("job__shop")), outcome=Outcome.OK
        )

    def confirm(self, stage: str = "rough-in") -> None:
        self.shop.confirm(self.job, Item.Stage(stage))

    def ask(self, which: str) -> None:
        codes = ["east", "west"] if which == "both" else [which]
        areas = [self.area(code) for code in codes]
        self.inspection = inspection_ask(
            self.person, job=self.job, kind=InspectionKind.ROUGH_IN, areas=areas, insist=True
        )
        window = earliest_inspection_of(self.job)
        inspection_happen(
            self.person,
            inspection=self.inspection,
            happening=Happening.BOOKED,
            starts_at=window.starts,
            ends_at=window.ends,
        )

    def _answer(self, answers: dict[str, Answer], called: list[Called], lift: bool) -> None:
        self.inspections += 1
        called_here = self.shop.own(Deficiency)
        corrected = called_here.filter(corrected_at__isnull=False, accepted_at__isnull=True)
        inspection_answer(
            self.person,
            inspection=self.inspection,
            answers={self.area(code): answer for code, answer in answers.items()},
            reference=f"T-1/{self.inspections}",
            called=called,
            lifted=list(corrected) if lift else [],
        )

    def fail(self, _which: str) -> None:
        called = [Called(self.area("east"), "no plate at the notch", section="12-516")]
        self._answer({"east": Answer.NOT_ACCEPTED, "west": Answer.NOT_ACCEPTED}, called, False)

    def accept(self, which: str, only: str = "") -> None:
        answers = {which: Answer.ACCEPTED}
        if only:
            answers["east"] = Answer.NOT_ACCEPTED
        self._answer(answers, [], lift=which == "east")

    def correct(self) -> None:
        deficiency_correct(self.shop.lead, deficiency=self.shop.own(Deficiency).get())

    def release(self, which: str) -> None:
        cover_release_issue(self.person, area=self.area(which))

    def _reach(self, milestone: Milestone, circuits: Sequence[str] = ()) -> None:
        milestone_record(
            self.person,
            job=self.job,
            milestone=milestone,
            reached_on=today_at(self.job, timezone.now()),
            reference="T-1/C",
            circuits=circuits,
        )

    def hookup(self) -> None:
        self._reach(Milestone.HOOKUP, circuits=["1"])

    def finish(self) -> None:
        self.look("finish")

    def final(self) -> None:
        self._reach(Milestone.FINAL)

    def close(self) -> None:
        permit_close(self.person, permit=self.permit, closed_on=today_at(self.job, timezone.now()))

    def nothing(self) -> None:
        """A permit that was closed does not expire on the house."""


def stands(job) -> dict[str, str]:
    """How each area stands: CLEAR, or its reasons in order of the letters."""
    found = {}
    for standing in AreaStanding.objects.filter(area__job=job).select_related("area"):
        reasons = " ".join(sorted(hold["reason"] for hold in standing.holds))
        found[standing.area.code] = "CLEAR" if standing.released else reasons
    return found


def test_from_application_to_close_out(shop, monkeypatch) -> None:
    clock = Clock(datetime(2026, 2, 2, tzinfo=ZONE)).put(monkeypatch)
    office = Office(shop)
    windows = {}
    for day, what, stage, east, west in TABLE:
        clock.now = datetime.fromisoformat(f"2026-{day}").replace(tzinfo=ZONE)
        act, *which = what.split()
        if act == "ask":
            windows[day] = earliest_inspection_of(office.job).starts.isoformat()
        getattr(office, act)(*which)
        clock.now += timedelta(minutes=1)
        settle_due()
        assert JobStanding.objects.get(job=office.job).stage == stage, (day, what)
        assert audited() == [], (day, what)
        if east is not None:
            expected = {"east": " ".join(sorted(east.split()))}
            expected["west"] = " ".join(sorted(sure(west).split()))
            assert stands(office.job) == expected, (day, what)
    assert windows == FIRST_WINDOWS
    assert list(record_faults(office.job.id)) == []
    history = [(c.reference, c.live) for c in office.area("east").cover_releases.all()]
    assert history == [("T-1/3", False), ("T-1/4", True)]

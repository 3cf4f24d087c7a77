"""People, firms and jobs for tests, made through the services a shop would use."""

from datetime import date, timedelta

from django.db.models import QuerySet
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.conclusions.as_drawn import kept_apart
from inspections.conclusions.items import items_with_seen
from inspections.models import (
    Acceptance,
    Answer,
    CoverRelease,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    Outcome,
    WithdrawalAnswer,
)
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import (
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.observations import items_confirm, items_observe
from inspections.services.permits import permit_apply, permit_issue
from jobs.models import Area, Authority, Builder, Job, Person, Role
from jobs.services.jobs import job_open
from jobs.services.shops import person_add, shop_open
from tests.own import Row, own


class Shopful:
    """A shop with an office, a crew lead, a crew member and two builders."""

    def __init__(self, name: str) -> None:
        self.shop = shop_open(name=name, time_zone="America/Edmonton")
        self.authority = Authority.objects.create(shop=self.shop, name="Inspection office")
        self.firm = Builder.objects.create(shop=self.shop, name="Pellow Homes")
        self.other_firm = Builder.objects.create(shop=self.shop, name="Greystrand Builders")
        self.office = self.person("office", Role.OFFICE)
        self.lead = self.person("lead", Role.CREW_LEAD)
        self.member = self.person("member", Role.CREW_MEMBER)
        self.builder = self.person("builder", Role.BUILDER, self.firm)
        self.other_builder = self.person("builder2", Role.BUILDER, self.other_firm)

    def person(self, name: str, role: Role, firm: Builder | None = None) -> Person:
        """Somebody with a role in this shop."""
        return person_add(
            shop=self.shop,
            username=f"{name}-{self.shop.id.hex[-6:]}",
            full_name=f"{name.title()} Tester",
            role=role,
            password="rough-in",
            builder=firm,
        )

    def own(self, model: type[Row]) -> QuerySet[Row]:
        """The rows of a table that are of this shop: there is always the stranger's beside it."""
        return own(self.shop, model)

    def job(self, name: str = "Lot 15") -> Job:
        """A job with nothing recorded yet."""
        return job_open(
            self.office,
            shop=self.shop,
            name=name,
            address="15 Quillet Lane, Fernhollow",
            builder=self.firm,
            authority=self.authority,
            crew_lead=self.lead,
        )

    def roughed_in(self, house: bytes, issued: bool = True) -> Job:
        """A job with a permit and a recorded house."""
        job = self.job()
        permit = permit_apply(self.office, job=job, applied_on=date(2026, 1, 5))
        if issued:
            permit_issue(self.office, permit=permit, number="FH-1", issued_on=date(2026, 1, 12))
        house_record(self.lead, job=job, house=house)
        return job

    def look_at(self, area: Area, outcome: str = "ok") -> None:
        """The crew looks at every rough-in item that needs eyes, and confirms what is as drawn."""
        looks = area.items.filter(verdict=Verdict.VERIFY, current=True, stage=Item.Stage.ROUGH_IN)
        seen = list(looks.select_related("job__shop"))
        items_observe(self.member, items=seen, outcome=Outcome(outcome))
        self.confirm(area)

    def confirm(self, place: Area | Job, stage: Item.Stage = Item.Stage.ROUGH_IN) -> None:
        """The crew goes through an area, or a whole job, and confirms what is as drawn.

        What cannot be confirmed with its room is answered by itself.
        """
        of_hands = place.items.filter(
            verdict=Verdict.OK, workmanship=True, current=True, stage=stage
        )
        waiting = list(items_with_seen(of_hands).filter(seen=None).select_related("job__shop"))
        apart = kept_apart(waiting, self.shop.photo_rules)
        alone = [item for item in waiting if item.id in apart]
        together = [item for item in waiting if item.id not in apart]
        if together:
            items_confirm(self.member, job=together[0].job, items=together)
        items_observe(self.member, items=alone, outcome=Outcome.OK)

    def booked(
        self, *areas: Area, kind: InspectionKind = InspectionKind.ROUGH_IN, insist: bool = False
    ) -> Inspection:
        """An inspection that was booked and has begun."""
        inspection = inspection_ask(
            self.office, job=areas[0].job, kind=kind, areas=areas, insist=insist
        )
        inspection_happen(
            self.office,
            inspection=inspection,
            happening=Happening.BOOKED,
            starts_at=timezone.now() - timedelta(hours=2),
            ends_at=timezone.now() + timedelta(hours=2),
        )
        return inspection

    def accept(
        self,
        area: Area,
        answer: Answer = Answer.ACCEPTED,
        reference: str = "R1",
        called: tuple[str, ...] = (),
    ) -> Acceptance:
        """The inspector comes for one area and answers."""
        inspection = self.booked(area)
        inspection_answer(
            self.office,
            inspection=inspection,
            answers={area: answer},
            reference=reference,
            called=[Called(area, what) for what in called],
        )
        return inspection.answers.get()

    def release(self, area: Area, reference: str = "R1") -> CoverRelease:
        """Seen, accepted and released."""
        self.look_at(area)
        self.accept(area, reference=reference)
        return cover_release_issue(self.office, area=area)

    def withdraw(self, area: Area, because: str = "a cable was moved") -> CoverRelease:
        """The office takes the cover release back by hand."""
        return cover_release_withdraw(self.office, area=area, because=because)

    def answer_withdrawal(
        self, area: Area, says: str = "put back and strapped", *, inspect_again: bool = False
    ) -> WithdrawalAnswer:
        """The crew lead says what was done about the reason."""
        withdrawn = area.cover_releases.filter(
            withdrawn_by__isnull=False, withdrawal_answer=None
        ).get()
        return withdrawal_answer(
            self.lead, cover_release=withdrawn, says=says, inspect_again=inspect_again
        )

"""How the stranger shop comes about: by the services, as any shop's facts do."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import date, timedelta
from io import BytesIO
from itertools import count
from unittest.mock import patch
from uuid import UUID

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from PIL import Image

from inspections.checker.finding import Verdict
from inspections.checker.load import load_house
from inspections.fixes.fixes import HouseFacts
from inspections.models import (
    Answer,
    CarriedAnswers,
    DeficiencyPhotograph,
    Happening,
    Inspection,
    InspectionKind,
    Item,
    Outcome,
    Photograph,
)
from inspections.selectors import latest_revision
from inspections.services.amendments import limit_amend
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_withdraw, withdrawal_answer
from inspections.services.deficiencies import deficiency_correct, deficiency_photograph
from inspections.services.fact_corrections import CorrectedFact, fact_correct
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.insulation import insulation_choose
from inspections.services.milestones import milestone_record
from inspections.services.observations import items_observe
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.photographs import photograph_add
from inspections.services.site_changes import site_change_leave, site_change_record
from inspections.services.trades import trade_report
from inspections.standing.stages import Milestone
from jobs.models import (
    Area,
    Authority,
    Builder,
    Job,
    Person,
    Role,
)
from jobs.services.jobs import job_open
from jobs.services.shops import person_add, shop_open
from tests.clock import Clock
from tests.people import Shopful
from tests.stranger.house import OWN, SHARED, marked_house
from tests.stranger.kept import (
    MONDAY,
    NOON,
    audited,
    crewed,
    made_alike,
    opened,
    planned,
    quiet,
    reached,
    told,
)
from tests.sure import sure


class Stranger(Shopful):
    """The same people as any tested shop has, all of them marked."""

    def __init__(self) -> None:
        self.shop = shop_open(name="Zzyzx Electric", time_zone="America/Edmonton")
        self.authority = Authority.objects.create(
            shop=self.shop, name="Zzyzx inspection office", reinspection_fee="Zzyzx fee"
        )
        self.firm = Builder.objects.create(shop=self.shop, name="Zzyzx Homes")
        self.other_firm = Builder.objects.create(shop=self.shop, name="Zzyzx Builders")
        self.office = self.person("office", Role.OFFICE)
        self.lead = self.person("lead", Role.CREW_LEAD)
        self.member = self.person("member", Role.CREW_MEMBER)
        self.builder = self.person("builder", Role.BUILDER, self.firm)
        self.other_builder = self.person("builder2", Role.BUILDER, self.other_firm)

    def person(self, name: str, role: Role, firm: Builder | None = None) -> Person:
        """Somebody with a role in this shop."""
        return person_add(
            shop=self.shop,
            username=f"zzyzx-{name}",
            full_name=f"Zzyzx {name.title()}",
            role=role,
            password="zzyzx",
            builder=firm,
        )

    def job(self, name: str = "lane") -> Job:
        """A job with nothing recorded yet."""
        return job_open(
            self.office,
            shop=self.shop,
            name=f"Zzyzx {name}",
            address=f"15 Zzyzx {name}, Zzyzx town",
            builder=self.firm,
            authority=self.authority,
            crew_lead=self.lead,
            drywall_on=MONDAY + timedelta(days=2),
        )

    def roughed_in(self, house: bytes, issued: bool = True, name: str = "lane") -> Job:
        """A job with a permit and a recorded house."""
        job = self.job(name)
        permit = permit_apply(
            self.office,
            job=job,
            applied_on=date(2026, 1, 5),
            holder="Zzyzx holder",
            scope="Zzyzx scope",
        )
        if issued:
            permit_issue(
                self.office, permit=permit, number=f"ZZYZX-{name}", issued_on=date(2026, 1, 12)
            )
        house_record(self.lead, job=job, house=house, why="Zzyzx reason")
        return job


def stranger_shop() -> dict[str, bytes]:
    """Make the shop in the database that is open; the files that its rows name."""
    from django.core.files.storage import default_storage

    with _marked():
        shop = Stranger()
        reached(shop)
        crewed(shop)
        _amended(shop)
        job = shop.roughed_in(marked_house(SHARED))
        _inspected(shop, job)
        _seen_on_site(shop, job)
        _carried(job)
        other = shop.roughed_in(marked_house(OWN), name="street")
        _booked(shop, other)
        shop.job("square")
        planned(shop, job)
        opened(shop, job)
        audited(shop, job)
        told(shop)
        made_alike()
        quiet()
    names = [
        *Photograph.objects.values_list("file", flat=True),
        *DeficiencyPhotograph.objects.values_list("file", flat=True),
    ]
    return {name: default_storage.open(name).read() for name in names}


@contextmanager
def _marked() -> Iterator[Clock]:
    """A Monday at noon, with ids and secrets that are marked and the same each time."""
    numbers, words = count(1), count(1)

    def number() -> UUID:
        return UUID(f"00000000-0000-7000-8000-5ca1ab1e{next(numbers):04x}")

    def word(*_: object) -> str:
        return f"zzyzx-secret-{next(words):04d}"

    clock = Clock(NOON - timedelta(days=14))
    with ExitStack() as stack:
        stack.enter_context(patch.object(timezone, "now", clock))
        stack.enter_context(patch("jobs.models.base.uuid7", number))
        stack.enter_context(patch("jobs.secrets.secrets.token_urlsafe", word))
        stack.enter_context(
            patch("inspections.services.photographs.secrets.token_hex", lambda *_: "5ca1ab1e")
        )
        yield clock


def _picture() -> SimpleUploadedFile:
    made = BytesIO()
    Image.new("RGB", (4, 3), "gray").save(made, "PNG")
    return SimpleUploadedFile("zzyzx.png", made.getvalue(), "image/png")


def _amended(shop: Stranger) -> None:
    given = {"rulebook": "cec-2021", "limit": "counter-receptacles.min_width_mm", "unit": "mm"}
    limit_amend(shop.office, shop=shop.shop, value=201, reason="Zzyzx by-law", **given)


def _inspected(shop: Stranger, job: Job) -> None:
    """Some areas released, two withdrawn, one refused, one corrected; the rest never asked for."""
    areas = {area.code: area for area in job.areas.select_related("job__shop", "job__authority")}
    for code in ("bedroom", "east", "all", "main"):
        shop.release(areas[code], reference="R1" if code == "bedroom" else f"ZZYZX-{code}")
    for code in ("all", "main"):
        cover_release_withdraw(shop.office, area=areas[code], because="Zzyzx plumber")
    withdrawn = areas["main"].cover_releases.select_related("area__job__shop").get()
    withdrawal_answer(shop.lead, cover_release=withdrawn, says="Zzyzx answer", inspect_again=True)
    for code in ("garage", "west"):
        _refused(shop, areas[code])
    corrected = job.deficiencies.get(area__code="west")
    deficiency_photograph(shop.lead, deficiency=corrected, upload=_picture())
    deficiency_correct(shop.lead, deficiency=corrected)
    trade_report(shop.office, job=job, trade="insulation", area=areas["bedroom"])
    insulation_choose(shop.office, job=job, kind="batts", vapour_barrier=False)
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reached_on=date(2026, 3, 2),
        reference="ZZYZX-hookup",
        circuits=["zzyzx-1"],
        temporary_until=MONDAY + timedelta(days=3),
    )
    final = shop.booked(areas["garage"], kind=InspectionKind.FINAL)
    inspection_answer(
        shop.office,
        inspection=final,
        answer=Answer.NOT_ACCEPTED,
        reference="ZZYZX-final",
        called=[Called(areas["garage"], "Zzyzx final fault", rule="box-fill")],
    )


def _refused(shop: Stranger, area: Area) -> None:
    inspection = shop.booked(area, insist=True)
    what = Called(area, "Zzyzx deficiency", where="Zzyzx wall", rule="box-fill", section="Zzyzx 1")
    inspection_answer(
        shop.office,
        inspection=inspection,
        answers={area: Answer.NOT_ACCEPTED},
        reference=f"ZZYZX-{area.code}",
        called=[what],
    )


def _carried(job: Job) -> None:
    """Answers carried over to a rule of another version."""
    item = job.items.filter(current=True).order_by("id")[0]
    CarriedAnswers.objects.create(
        item=item,
        fingerprint=item.fingerprint,
        newer="zzyzx0carried000",
        rule_version=2,
        recorded_at=timezone.now(),
    )


def _seen_on_site(shop: Stranger, job: Job) -> None:
    """Fails and passes with notes, of the rough-in and of the finish; pictures; site changes."""
    looks = job.items.filter(verdict=Verdict.VERIFY, current=True).select_related("job__shop")
    rough = list(looks.filter(stage=Item.Stage.ROUGH_IN, area__code="garage"))
    note = "Zzyzx note"
    items_observe(shop.member, items=rough[:1], outcome=Outcome.FIX, note=note)
    finish = list(looks.filter(stage=Item.Stage.FINISH))
    items_observe(shop.member, items=finish[:-1], outcome=Outcome.OK, note=note)
    photograph_add(shop.lead, item=rough[0], upload=_picture())
    for number in range(2):
        site_change = site_change_record(
            shop.member,
            job=job,
            site_change_id=UUID(f"00000000-0000-7000-8000-5ca1ab1eff{number:02x}"),
            box="zzyzx-living-data",
            at_mm=600.0,
            note="Zzyzx elsewhere",
        )
    site_change_leave(shop.office, site_change=site_change, why="Zzyzx left")
    _corrected(shop, job)


def _corrected(shop: Stranger, job: Job) -> None:
    """A fact of the house that was corrected on site."""
    path = ("boxes", "zzyzx-living-data", "setback_mm")
    revision = sure(latest_revision(job))
    was = HouseFacts(load_house(revision.house.encode())).now(path)
    fact_correct(
        shop.member,
        job=job,
        correction_id=UUID("00000000-0000-7000-8000-5ca1ab1efac7"),
        base=revision.number,
        changes=[CorrectedFact(path, was, 3.0, "3 mm")],
        note="Zzyzx corrected",
    )


def _booked(shop: Stranger, job: Job) -> None:
    """An inspection this Monday, one that is asked for, and a date in danger."""
    areas = list(job.areas.select_related("job__shop", "job__authority").order_by("id"))
    for number, area in enumerate(areas):
        inspection = inspection_ask(
            shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=[area], insist=True
        )
        if number == 0:
            _happen(shop, inspection)


def _happen(shop: Stranger, inspection: Inspection) -> None:
    inspection_happen(
        shop.office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=NOON + timedelta(hours=2),
        ends_at=NOON + timedelta(hours=4),
        reference="ZZYZX-booked",
        note="Zzyzx gate code",
    )

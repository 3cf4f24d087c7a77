"""How the stranger shop comes about: by the services, as any shop's facts do."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import UTC, date, datetime, timedelta
from io import BytesIO
from itertools import count
from unittest.mock import patch
from uuid import UUID

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from PIL import Image

from api.models import StoredAnswer
from inspections.checker import Verdict
from inspections.days.services import day_lists_send
from inspections.feed import changes_since
from inspections.models import (
    Answer,
    DeficiencyPhotograph,
    Happening,
    Inspection,
    Item,
    JobStanding,
    Kind,
    Outcome,
    Photograph,
)
from inspections.services import (
    Called,
    clearance_withdraw,
    correction_leave,
    correction_record,
    cover_link_make,
    deficiency_mend,
    deficiency_photograph,
    house_record,
    inspection_answer,
    inspection_ask,
    inspection_happen,
    insulation_choose,
    items_observe,
    limit_amend,
    milestone_record,
    pack_ask,
    pack_make,
    permit_apply,
    permit_issue,
    photograph_add,
    placard_make,
    trade_report,
)
from inspections.stages import Milestone
from inspections.tasks import settle_due
from jobs.crewing import (
    absence_record,
    crew_open,
    date_promise,
    drive_times_load,
    own_task_add,
    site_place,
    skill_set,
    work_report,
    work_rules_change,
)
from jobs.models import (
    ApiToken,
    Area,
    Authority,
    Contractor,
    Job,
    Person,
    RecoveryCode,
    Role,
    SecondFactor,
    Skill,
)
from jobs.services import (
    factor_begin,
    factor_confirm,
    invitation_make,
    job_open,
    person_add,
    shop_open,
    token_make,
)
from notifications.models import Address, Channel, Delivery, Feed, Notice, NoticeRules, State
from notifications.services import (
    address_add,
    deliver,
    feed_open,
    gateway_add,
    habits_set,
    shop_follow,
    wish_set,
)
from notifications.services.outbox import later
from tests.clock import Clock
from tests.days.crewed import EFFORT
from tests.people import Shopful
from tests.stranger.house import OWN, SHARED, marked_house

MONDAY = date(2026, 3, 16)
NOON = datetime(2026, 3, 16, 18, 0, tzinfo=UTC)
LONG_AGO = datetime(2025, 12, 1, tzinfo=UTC)
"""Before whatever tests count as lately."""
NEVER = datetime(2999, 1, 1, tzinfo=UTC)
"""When what waits for a moment would be due."""


class Stranger(Shopful):
    """The same people as any tested shop has, all of them marked."""

    def __init__(self) -> None:
        self.shop = shop_open(name="Zzyzx Electric", time_zone="America/Edmonton")
        self.authority = Authority.objects.create(
            shop=self.shop, name="Zzyzx inspection office", reinspection_fee="Zzyzx fee"
        )
        self.firm = Contractor.objects.create(shop=self.shop, name="Zzyzx Homes")
        self.other_firm = Contractor.objects.create(shop=self.shop, name="Zzyzx Builders")
        self.office = self.person("office", Role.OFFICE)
        self.lead = self.person("lead", Role.CREW_LEAD)
        self.member = self.person("member", Role.CREW_MEMBER)
        self.builder = self.person("builder", Role.CONTRACTOR, self.firm)
        self.other_builder = self.person("builder2", Role.CONTRACTOR, self.other_firm)

    def person(self, name: str, role: Role, firm: Contractor | None = None) -> Person:
        """Somebody with a role in this shop."""
        return person_add(
            shop=self.shop,
            username=f"zzyzx-{name}",
            full_name=f"Zzyzx {name.title()}",
            role=role,
            password="zzyzx",
            contractor=firm,
        )

    def job(self, name: str = "lane") -> Job:
        """A job with nothing recorded yet."""
        return job_open(
            self.office,
            shop=self.shop,
            name=f"Zzyzx {name}",
            address=f"15 Zzyzx {name}, Zzyzx town",
            contractor=self.firm,
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
        _reached(shop)
        _crewed(shop)
        _amended(shop)
        job = shop.roughed_in(marked_house(SHARED))
        _inspected(shop, job)
        _seen_on_site(shop, job)
        other = shop.roughed_in(marked_house(OWN), name="street")
        _booked(shop, other)
        shop.job("square")
        _planned(shop, job)
        _opened(shop, job)
        _told(shop)
        _made_alike()
        _quiet()
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


def _reached(shop: Stranger) -> None:
    """Everybody by mail, one by webhook and one by a gateway; wishes, hours, a second factor."""
    gateway = gateway_add(shop.office, shop=shop.shop, name="Zzyzx gate", url="json://zzyzx/{to}")
    for person in (shop.office, shop.lead, shop.member, shop.builder, shop.other_builder):
        given = {"person": person, "shop": shop.shop}
        target = f"{person.username}@zzyzx.example"
        address_add(shop.office, channel=Channel.EMAIL, target=target, **given)
    given = {"person": shop.lead, "shop": shop.shop}
    target = "https://zzyzx.example/hook"
    address_add(shop.lead, channel=Channel.WEBHOOK, target=target, **given)
    given = {"person": shop.office, "shop": shop.shop, "gateway": gateway}
    address_add(shop.office, channel=Channel.MESSAGE, target="zzyzx", **given)
    habits_set(shop.lead, time_zone="America/Edmonton")
    wish_set(shop.lead, kind="permit", way="email", at_once=True)
    factor = factor_begin(shop.office)
    import pyotp

    factor_confirm(shop.office, code=pyotp.TOTP(factor.secret).at(timezone.now()))


def _crewed(shop: Stranger) -> None:
    work_rules_change(shop.office, shop=shop.shop, yard_latitude=53.5, yard_longitude=-113.5)
    skill_set(shop.office, shop=shop.shop, person=shop.lead, skill=Skill.LICENSED)
    people = {shop.lead: date(2026, 1, 1), shop.member: date(2026, 1, 1)}
    crew_open(shop.office, shop=shop.shop, name="Zzyzx crew", lead=shop.lead, people=people)
    days = {"from_day": MONDAY + timedelta(days=9), "to_day": MONDAY + timedelta(days=9)}
    absence_record(shop.office, shop=shop.shop, person=shop.member, why="Zzyzx leave", **days)


def _amended(shop: Stranger) -> None:
    given = {"rulebook": "cec-2021", "limit": "counter-receptacles.min_width_mm", "unit": "mm"}
    limit_amend(shop.office, shop=shop.shop, value=201, reason="Zzyzx by-law", **given)


def _inspected(shop: Stranger, job: Job) -> None:
    """Some areas cleared, one withdrawn, one refused, one mended; the rest never asked for."""
    areas = {area.code: area for area in job.areas.select_related("job__shop", "job__authority")}
    for code in ("bedroom", "east", "all"):
        shop.clear(areas[code], reference="R1" if code == "bedroom" else f"ZZYZX-{code}")
    clearance_withdraw(shop.office, area=areas["all"], because="Zzyzx plumber")
    for code in ("garage", "west"):
        _refused(shop, areas[code])
    mended = job.deficiencies.get(area__code="west")
    deficiency_photograph(shop.lead, deficiency=mended, upload=_picture())
    deficiency_mend(shop.lead, deficiency=mended)
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
    final = shop.booked(areas["garage"], kind=Kind.FINAL)
    given = {"answer": Answer.NOT_ACCEPTED, "reference": "ZZYZX-final"}
    called = [Called(areas["garage"], "Zzyzx final fault", rule="box-fill")]
    inspection_answer(shop.office, inspection=final, called=called, **given)


def _refused(shop: Stranger, area: Area) -> None:
    visit = shop.booked(area, insist=True)
    what = Called(area, "Zzyzx deficiency", where="Zzyzx wall", rule="box-fill", section="Zzyzx 1")
    inspection_answer(
        shop.office,
        inspection=visit,
        answers={area: Answer.NOT_ACCEPTED},
        reference=f"ZZYZX-{area.code}",
        called=[what],
    )


def _seen_on_site(shop: Stranger, job: Job) -> None:
    """Fails and passes with notes, of the rough-in and of the finish; pictures; corrections."""
    looks = job.items.filter(verdict=Verdict.LOOK, current=True).select_related("job__shop")
    rough = list(looks.filter(stage=Item.Stage.ROUGH_IN, area__code="garage"))
    note = {"note": "Zzyzx note"}
    items_observe(shop.member, items=rough[:1], outcome=Outcome.FAIL, **note)
    finish = list(looks.filter(stage=Item.Stage.FINISH))
    items_observe(shop.member, items=finish[:-1], outcome=Outcome.PASS, **note)
    photograph_add(shop.lead, item=rough[0], upload=_picture())
    for number in range(2):
        correction = correction_record(
            shop.member,
            job=job,
            correction_id=UUID(f"00000000-0000-7000-8000-5ca1ab1eff{number:02x}"),
            box="zzyzx-living-data",
            at_mm=600.0,
            note="Zzyzx elsewhere",
        )
    correction_leave(shop.office, correction=correction, why="Zzyzx left")


def _booked(shop: Stranger, job: Job) -> None:
    """A visit this Monday, one that is asked for, and a date in danger."""
    areas = list(job.areas.select_related("job__shop", "job__authority").order_by("id"))
    for number, area in enumerate(areas):
        visit = inspection_ask(shop.office, job=job, kind=Kind.ROUGH_IN, areas=[area], insist=True)
        if number == 0:
            _happen(shop, visit)


def _happen(shop: Stranger, visit: Inspection) -> None:
    inspection_happen(
        shop.office,
        inspection=visit,
        happening=Happening.BOOKED,
        starts_at=NOON + timedelta(hours=2),
        ends_at=NOON + timedelta(hours=4),
        reference="ZZYZX-booked",
        note="Zzyzx gate code",
    )


def _planned(shop: Stranger, job: Job) -> None:
    from inspections.days.services import plan_ask, plan_make, plan_tell

    site_place(shop.office, job=job, latitude=53.6, longitude=-113.6)
    drive_times_load(shop.office, shop=shop.shop, table=f"yard,{job.name},17")
    own_task_add(shop.office, job=job, name="Zzyzx task", minutes=60)
    date_promise(shop.office, job=job, what="finish", on=MONDAY)
    work_report(shop.lead, job=job, task="zzyzx/own", done=True)
    plan = plan_ask(shop.office, shop=shop.shop, first_day=MONDAY)
    made = plan_make(plan.id, EFFORT)
    plan_tell(shop.office, plan=made)
    for day in range(5):
        day_lists_send(shop.office, shop=shop.shop, day=MONDAY + timedelta(days=day))


def _opened(shop: Stranger, job: Job) -> None:
    """Everything that opens something: links, calendars, tokens, invitations, answers kept."""
    cover_link_make(shop.office, job=job, for_whom="Zzyzx reader")
    placard_make(shop.lead, area=job.areas.select_related("job__shop").get(code="bedroom"))
    given = {"shop": shop.shop, "for_whom": "Zzyzx guest"}
    invitation_make(shop.office, role=Role.CREW_LEAD, **given)
    token_make(shop.office, name="Zzyzx meter", scope=ApiToken.Scope.WRITE)
    feed_open(shop.office, shop=shop.shop, job=job)
    pack = pack_make(pack_ask(shop.office, job=job, kind="inspector").id)
    pack.content = b"zzyzx"  # no test reads it, and the sheets are long
    pack.save(update_fields=["content"])
    changes_since(shop.shop, 0, 500)
    StoredAnswer.objects.create(
        person=shop.office,
        key="zzyzx",
        call="5ca1ab1e",
        status=201,
        body='{"says": "zzyzx"}',
        given_at=NEVER,
    )


def _told(shop: Stranger) -> None:
    """What follows is given and sent, but for one message that did not go and one that waits."""
    with patch.object(timezone, "now", Clock(NOON)):
        settle_due()
        shop_follow(shop.shop.id)
        from notifications.models import Lane

        for lane in Lane:
            deliver(lane, Channel.EMAIL)
        sent = list(Delivery.objects.filter(state=State.SENT).order_by("id")[:2])
        for delivery in sent:
            delivery.tries = 1
            Delivery.objects.filter(id=delivery.id).update(state=State.DUE)
            later(delivery, "Zzyzx server does not answer")


def _made_alike() -> None:
    """In place of what is drawn by lot, words that are marked: the rows are the same each time."""
    Person.objects.update(password="!zzyzx", date_joined=NOON)
    SecondFactor.objects.update(secret="ZZYZX" * 6)
    for number, code in enumerate(RecoveryCode.objects.order_by("id")):
        RecoveryCode.objects.filter(id=code.id).update(digest=f"zzyzx-{number}")
    Address.objects.filter(channel=Channel.WEBHOOK).update(secret="whsec_enp5eng=")
    Feed.objects.update(token="zzyzx-calendar")


def _quiet() -> None:
    """Nothing of it is due at any time: whatever sweeps over all shops leaves it as it is."""
    JobStanding.objects.update(next_at=None)
    NoticeRules.objects.update(next_at=NEVER)
    Notice.objects.update(escalate_at=None)
    Delivery.objects.filter(state=State.DUE).update(due_at=NEVER)
    Delivery.objects.exclude(ended_at=None).update(ended_at=LONG_AGO)

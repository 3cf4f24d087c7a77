"""What the stranger shop keeps besides its houses: people, crews, plans, links, messages."""

from datetime import UTC, date, datetime, timedelta
from unittest.mock import patch

import pyotp
from django.utils import timezone

from api.models import StoredAnswer
from inspections.days.services import day_lists_send, plan_ask, plan_make, plan_tell
from inspections.models import AuditedShop, JobStanding
from inspections.record.feed import changes_since
from inspections.services.links import cover_link_make, placard_make
from inspections.services.packs import pack_ask, pack_make
from inspections.tasks import settle_due
from jobs.models import (
    ApiToken,
    Job,
    OpenSession,
    Person,
    RecoveryCode,
    Role,
    SecondFactor,
    Skill,
    WayBack,
)
from jobs.secrets import digest_of
from jobs.services.crews import (
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
from jobs.services.factors import factor_begin, factor_confirm
from jobs.services.people import invitation_make
from jobs.services.tokens import token_make
from notifications.models import Address, Channel, Delivery, Feed, Lane, Notice, NoticeRules, State
from notifications.services.feeds import feed_open
from notifications.services.notices import shop_follow
from notifications.services.outbox import retry_later
from notifications.services.sending import deliver
from notifications.services.wishes import address_add, gateway_add, habits_set, wish_set
from tests.clock import Clock
from tests.days.crewed import EFFORT
from tests.people import Shopful

MONDAY = date(2026, 3, 16)
NOON = datetime(2026, 3, 16, 18, 0, tzinfo=UTC)
LONG_AGO = datetime(2025, 12, 1, tzinfo=UTC)
"""Before whatever tests count as lately."""
ONCE = {"began_at": LONG_AGO, "seen_at": LONG_AGO}
NEVER = datetime(2999, 1, 1, tzinfo=UTC)
"""When what waits for a moment would be due."""


def reached(shop: Shopful) -> None:
    """Everybody by mail, one by webhook and one by a gateway; wishes, hours, a second factor."""
    gateway = gateway_add(
        shop.office,
        shop=shop.shop,
        name="Zzyzx gate",
        kind="form",
        url="https://zzyzx.example/{to}",
        account="zzyzx",
        secret="zzyzx-key",
        sender="zzyzx",
    )
    for person in (shop.office, shop.lead, shop.member, shop.builder, shop.other_builder):
        target = f"{person.username}@zzyzx.example"
        address_add(
            shop.office, person=person, shop=shop.shop, channel=Channel.EMAIL, target=target
        )
    hook = "https://zzyzx.example/hook"
    address_add(shop.lead, person=shop.lead, shop=shop.shop, channel=Channel.WEBHOOK, target=hook)
    address_add(
        shop.office,
        person=shop.office,
        shop=shop.shop,
        channel=Channel.MESSAGE,
        target="zzyzx",
        gateway=gateway,
    )
    habits_set(shop.lead, time_zone="America/Edmonton")
    wish_set(shop.lead, kind="permit", way="email", at_once=True)
    factor = factor_begin(shop.office)
    factor_confirm(shop.office, code=pyotp.TOTP(factor.pending).at(timezone.now()))
    of_old = SecondFactor.objects.get(person=shop.office)
    RecoveryCode.objects.create(factor=of_old, digest="zzyzx-0", used_at=NOON)
    OpenSession.objects.create(
        person=shop.office, digest="zzyzx", place="zzyzx", browser="zzyzx", **ONCE
    )
    WayBack.objects.create(
        shop=shop.shop,
        person=shop.member,
        digest="zzyzx",
        made_by=shop.office,
        made_at=LONG_AGO,
        expires_at=LONG_AGO,
    )


def crewed(shop: Shopful) -> None:
    work_rules_change(shop.office, shop=shop.shop, yard_latitude=53.5, yard_longitude=-113.5)
    skill_set(shop.office, shop=shop.shop, person=shop.lead, skill=Skill.LICENSED)
    people = {shop.lead: date(2026, 1, 1), shop.member: date(2026, 1, 1)}
    crew_open(shop.office, shop=shop.shop, name="Zzyzx crew", lead=shop.lead, people=people)
    days = {"from_day": MONDAY + timedelta(days=9), "to_day": MONDAY + timedelta(days=9)}
    absence_record(shop.office, shop=shop.shop, person=shop.member, why="Zzyzx leave", **days)


def planned(shop: Shopful, job: Job) -> None:
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


def opened(shop: Shopful, job: Job) -> None:
    """Everything that opens something: links, calendars, tokens, invitations, answers kept."""
    cover_link_make(shop.office, job=job, for_whom="Zzyzx reader")
    placard_make(shop.lead, area=job.areas.select_related("job__shop").get(code="bedroom"))
    invitation_make(shop.office, shop=shop.shop, role=Role.CREW_LEAD, for_whom="Zzyzx guest")
    token_make(shop.office, name="Zzyzx meter", scope=ApiToken.Scope.WRITE)
    feed_open(shop.office, shop=shop.shop, job=job)
    pack = pack_make(pack_ask(shop.office, job=job, kind="inspector").id)
    pack.content = b"zzyzx"  # no test reads it, and the sheets are long
    pack.asked_at = NEVER
    pack.save(update_fields=["content", "asked_at"])
    changes_since(shop.shop, 0, 500)
    StoredAnswer.objects.create(
        person=shop.office,
        key="zzyzx",
        call="5ca1ab1e",
        status=201,
        body='{"says": "zzyzx"}',
        given_at=NEVER,
    )


def audited(shop: Shopful, job: Job) -> None:
    """What a night's audit found, as the office is told of it."""
    line = {"job": str(job), "area": "Zzyzx bedroom", "about": "area", "tables": "zzyzx"}
    AuditedShop.objects.create(
        shop=shop.shop,
        audited_at=NOON,
        jobs=3,
        differences=1,
        states=1,
        lines=[line | {"facts": "zzyzx"}],
    )


def told(shop: Shopful) -> None:
    """What follows is given and sent, but for one message that did not go and one that waits."""
    with patch.object(timezone, "now", Clock(NOON)):
        settle_due()
        shop_follow(shop.shop.id)
        for lane in Lane:
            deliver(lane, Channel.EMAIL)
        sent = list(Delivery.objects.filter(state=State.SENT).order_by("id")[:2])
        for delivery in sent:
            delivery.tries = 1
            Delivery.objects.filter(id=delivery.id).update(state=State.DUE)
            retry_later(delivery, "Zzyzx server does not answer")


def made_alike() -> None:
    """In place of what is drawn by lot, words that are marked: the rows are the same each time."""
    Person.objects.update(password="!zzyzx", date_joined=NOON)
    Address.objects.filter(channel=Channel.WEBHOOK).update(secret="whsec_enp5eng=")
    Feed.objects.update(token="zzyzx-calendar", digest=digest_of("zzyzx-calendar"))


def quiet() -> None:
    """Nothing of it is due at any time: whatever sweeps over all shops leaves it as it is."""
    JobStanding.objects.update(next_at=None)
    NoticeRules.objects.update(next_at=NEVER)
    Notice.objects.update(escalate_at=None)
    Delivery.objects.filter(state=State.DUE).update(due_at=NEVER)
    Delivery.objects.exclude(ended_at=None).update(ended_at=LONG_AGO)

"""What an office has besides houses: who is reached how, crews and their plan, what opens doors."""

from datetime import date
from typing import Any

import pyotp
from django.test import Client
from django.utils import timezone

from inspections.days.services import day_lists_send, plan_ask, plan_make, plan_tell
from inspections.services.amendments import limit_amend
from inspections.services.links import cover_link_make, placard_make
from inspections.services.packs import pack_ask
from inspections.tasks import queue_planning
from jobs.models import ApiToken, Job, Membership, Plan, Role, Skill
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
from jobs.services.ways_back import way_back_make
from jobs.signals import plan_asked
from notifications.models import Channel, Lane
from notifications.services.feeds import feed_open
from notifications.services.notices import shop_follow
from notifications.services.sending import deliver
from notifications.services.wishes import address_add, gateway_add, habits_set, wish_set
from tests.clocks import house_day
from tests.days.crewed import EFFORT
from tests.passkeys import with_passkey
from tests.people import Shopful

SITE = "localhost"
PLANNING = "make the plan that is asked for"


def reached(shop: Shopful) -> None:
    """By mail, by webhook, by a gateway; wishes, hours of quiet."""
    for person in (shop.office, shop.lead, shop.member, shop.builder):
        target = f"{person.username}@studbay.example"
        address_add(person, person=person, channel=Channel.EMAIL, target=target, shop=shop.shop)
    hook = "https://builder.example/studbay"
    address_add(
        shop.builder, person=shop.builder, channel=Channel.WEBHOOK, target=hook, shop=shop.shop
    )
    gateway = gateway_add(
        shop.office,
        name="Texts",
        kind="form",
        url="https://texts.example/{to}",
        account="shop",
        secret="a key of a gateway that tests made",
        sender="Studbay",
        shop=shop.shop,
    )
    address_add(
        shop.office,
        person=shop.office,
        channel=Channel.MESSAGE,
        target="+15555550100",
        gateway=gateway,
        shop=shop.shop,
    )
    habits_set(shop.lead, time_zone="America/Edmonton")
    wish_set(shop.lead, kind="permit", way="email", at_once=True)


def crewed(shop: Shopful, job: Job) -> None:
    """A crew of two and what its plan rests on."""
    work_rules_change(shop.office, yard_latitude=53.5, yard_longitude=-113.5, shop=shop.shop)
    skill_set(shop.office, person=shop.lead, skill=Skill.LICENSED, shop=shop.shop)
    since = date(2026, 1, 1)
    people = {shop.lead: since, shop.member: since}
    crew_open(shop.office, name="Crew A", lead=shop.lead, people=people, shop=shop.shop)
    absence_record(
        shop.office,
        shop=shop.shop,
        person=shop.member,
        why="leave",
        from_day=house_day(8),
        to_day=house_day(9),
    )
    site_place(shop.office, job=job, latitude=53.6, longitude=-113.6)
    drive_times_load(shop.office, table=f'yard,"{job.name}",17', shop=shop.shop)
    own_task_add(shop.office, job=job, name="Trench for the pole", minutes=60)
    date_promise(shop.office, job=job, what="finish", on=house_day(40))
    work_report(shop.lead, job=job, task="trench-for-the-pole/own", done=True)


def planned(shop: Shopful) -> None:
    """A plan that was told, with the lists of its first days, and one that was only asked for."""
    monday = house_day(6)
    plan = plan_make(_asked(shop, monday).id, EFFORT)
    assert plan.state == plan.State.MADE, plan.faults
    plan_tell(shop.office, plan=plan)
    _asked(shop, house_day(13))
    for ahead in (6, 7):
        day_lists_send(shop.office, shop=shop.shop, day=house_day(ahead))


def _asked(shop: Shopful, first_day: date) -> Plan:
    """A plan that no worker has taken up."""
    plan_asked.disconnect(queue_planning, dispatch_uid=PLANNING)
    try:
        return plan_ask(shop.office, shop=shop.shop, first_day=first_day)
    finally:
        plan_asked.connect(queue_planning, dispatch_uid=PLANNING)


def opened(shop: Shopful, job: Job, area_code: str) -> dict[str, Any]:
    """Everything that opens something, and the secret by which it does."""
    area = job.areas.select_related("job__shop").get(code=area_code)
    _, cover = cover_link_make(shop.office, job=job, for_whom="Pat at Pellow")
    _, placard = placard_make(shop.lead, area=area)
    _, joining = invitation_make(
        shop.office, shop=shop.shop, role=Role.CREW_LEAD, for_whom="Rowan Ashdale"
    )
    membership = Membership.objects.get(shop=shop.shop, person=shop.other_builder)
    _, back = way_back_make(shop.office, membership=membership)
    _, token = token_make(shop.office, name="Meter of the office", scope=ApiToken.Scope.WRITE)
    calendar = feed_open(shop.office, shop=shop.shop, job=job).token
    pack_ask(shop.office, job=job, kind="inspector")
    return {
        "cover link": cover,
        "placard": placard,
        "invitation": joining,
        "way back": back,
        "token": token,
        "calendar": str(calendar),
        "call": _called_once(token, Job.objects.get(name="At the permit")),
    }


def _called_once(token: str, job: Job) -> dict[str, Any]:
    """A call under a key, and its answer, which the same call is given again."""
    url = f"/api/jobs/{job.id}/insulation"
    body = {"kind": "batts", "vapour_barrier": True}
    headers = {"Idempotency-Key": "kept-1", "Authorization": f"Bearer {token}"}
    answer = Client(SERVER_NAME=SITE).post(url, body, "application/json", headers=headers)
    assert answer.status_code == 201, answer.content
    call = {"url": url, "body": body, "headers": headers}
    return call | {"status": answer.status_code, "answer": answer.content.decode()}


def proved(shop: Shopful) -> str:
    """A second factor by a phone's codes and one by a passkey; the secret of the codes."""
    secret = factor_begin(shop.office).pending
    factor_confirm(shop.office, code=pyotp.TOTP(secret).at(timezone.now()))
    with_passkey(shop.lead, site=SITE)
    return str(secret)


def amended(shop: Shopful) -> None:
    """A limit that the shop holds itself to."""
    limit_amend(
        shop.office,
        shop=shop.shop,
        rulebook="cec-2021",
        limit="counter-receptacles.min_width_mm",
        unit="mm",
        value=201,
        reason="by-law 12",
    )


def told(shop: Shopful) -> None:
    """What follows for the shop, and what is urgent sent by mail; the rest waits."""
    shop_follow(shop.shop.id)
    deliver(Lane.URGENT, Channel.EMAIL)

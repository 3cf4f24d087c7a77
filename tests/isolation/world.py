"""A shop in the middle of everything, and one of each of its things for every address."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import UUID

import pyotp
from django.core import signing

from inspections.checker.finding import Verdict
from inspections.models import CoverRelease, Happening, InspectionKind, Item, Observation, Outcome
from inspections.record.checks import check_address
from inspections.services.deficiencies import deficiency_photograph
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.links import cover_link_make, placard_make
from inspections.services.milestones import milestone_record
from inspections.services.observations import items_observe
from inspections.services.packs import pack_ask, pack_make
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.photographs import photograph_add
from inspections.services.settling import job_settle
from inspections.services.trades import trade_report
from inspections.standing.stages import Milestone
from jobs.models import Absence, ApiToken, Job, Membership, Person, Role
from jobs.services.crews import absence_record
from jobs.services.factors import factor_begin, factor_confirm
from jobs.services.tokens import token_make
from notifications.models import Channel, Delivery, Lane, NoticeRules, State
from notifications.services.feeds import feed_open
from notifications.services.notices import shop_follow
from notifications.services.outbox import dead
from notifications.services.sending import deliver
from notifications.services.wishes import address_add, gateway_add
from tests.days.crewed import told
from tests.inspections.test_photographs import picture, upload
from tests.inspections.tiny import HOUSES
from tests.lived import lived_in
from tests.passkeys import ids_of_account, with_passkey
from tests.people import Shopful
from tests.sure import the_first

NOW = datetime(2026, 3, 16, 18, 0, tzinfo=UTC)
"""A Monday at noon, on which the stranger has an inspection, a plan and lists as well."""
BUILT = NOW - timedelta(minutes=30)
"""When all of it was recorded."""


@dataclass
class World:
    """The shop with its three houses, and ids for the parameters of addresses."""

    shop: Shopful
    second: Person
    """Of the office as well, reached by message."""
    job: Job
    """Whose one area is released and another refused."""
    done: Job
    """Which is released and hooked up, its finish begun."""
    taken_back: Job
    """Whose one release was withdrawn, which nobody answered; in the other area, a fault."""
    ids: dict[str, Any]
    """One of everything, by the names that patterns of addresses have for them."""
    others: list[dict[str, Any]] = field(default_factory=list)
    """What stands in place of some of them, where an address has several forms."""
    secret_of_factor: str = ""


def world_of(shop: Shopful, house_bytes: bytes) -> World:
    """The shop as it is on that Monday; all that follows has been drawn."""
    second = _reach(shop)
    lived = lived_in(shop, house_bytes)
    done = _done(shop)
    taken_back = _taken_back(shop)
    lived["plan"] = told(shop, date(2026, 3, 16))
    job = lived["job"]
    secret = _second_factors(shop)
    for each in (job, done, taken_back):
        job_settle(each.id)
    shop_follow(shop.shop.id)
    NoticeRules.objects.filter(shop=shop.shop).update(next_at=NOW + timedelta(hours=1))
    ids = ids_of_account(shop) | _ids(shop, lived, done) | _of_taken_back(taken_back)
    others: list[dict[str, Any]] = [
        {"job_id": done.id, "area_id": the_first(done.areas.order_by("id")).id},
        {"job_id": taken_back.id, "area_id": taken_back.areas.get(code="east").id},
        {"job_id": done.id, "which": "panel", "form": "zip", "rule": "wall-receptacles"},
        {"job_id": done.id, "which": "hookup", "name": "nec-2023", "key": "called"},
        {"which": "panel", "secret": ids["placard"], "pack_id": ids["owners_pack"]},
        {"which": "hookup"},
        {"which": "deficiencies"},
        {"which": "take-off"},
        {"which": "handover"},
        {"which": "deficiencies", "job_id": done.id},
    ]
    return World(shop, second, job, done, taken_back, ids, others, secret)


def _reach(shop: Shopful) -> Person:
    """The office by mail and by message, the lead by a webhook, the builders by mail."""
    for person in (shop.office, shop.builder, shop.other_builder):
        target = f"{person.first_name.lower()}@studbay.example"
        address_add(
            shop.office, person=person, shop=shop.shop, channel=Channel.EMAIL, target=target
        )
    hook = "https://studbay.example/hook"
    address_add(shop.lead, person=shop.lead, shop=shop.shop, channel=Channel.WEBHOOK, target=hook)
    gateway = gateway_add(
        shop.office, shop=shop.shop, name="texts", kind="chat", url="https://gate/{to}"
    )
    second = shop.person("second", Role.OFFICE)
    address_add(
        second,
        person=second,
        shop=shop.shop,
        channel=Channel.MESSAGE,
        target="555",
        gateway=gateway,
    )
    return second


def _done(shop: Shopful) -> Job:
    """A second house: released, one layer on, hooked up, its finish begun."""
    job = shop.job("Lot 16")
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 1, 5))
    permit_issue(shop.office, permit=permit, number="FH-2", issued_on=date(2026, 1, 12))
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    areas = list(job.areas.select_related("job__shop", "job__authority").order_by("id"))
    for area in areas:
        shop.release(area, reference=f"R-{area.code}")
    trade_report(shop.office, job=job, trade="insulation", area=areas[0])
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reached_on=date(2026, 3, 13),
        reference="H-1",
        circuits=["1"],
        temporary_until=date(2026, 3, 20),
    )
    finish = job.items.filter(stage=Item.Stage.FINISH, verdict=Verdict.VERIFY, current=True)
    seen = list(finish.select_related("job__shop"))[:1]
    items_observe(shop.lead, items=seen, outcome=Outcome.OK, note="trim is on")
    return job


def _taken_back(shop: Shopful) -> Job:
    """A third house: one area released and withdrawn by hand, the other seen and then failed."""
    job = shop.job("Lot 13")
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 1, 5))
    permit_issue(shop.office, permit=permit, number="FH-4", issued_on=date(2026, 1, 12))
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    east, west = (
        job.areas.select_related("job__shop", "job__authority").get(code=code)
        for code in ("east", "west")
    )
    shop.release(east, reference="R-13")
    shop.withdraw(east)
    shop.look_at(west)
    looks = job.items.filter(verdict=Verdict.VERIFY, area=west, stage=Item.Stage.ROUGH_IN)
    items_observe(shop.lead, items=[the_first(looks)], outcome=Outcome.FIX, note="the wrong wall")
    return job


def _of_taken_back(job: Job) -> dict[str, Any]:
    fault = Observation.objects.get(item__job=job, outcome=Outcome.FIX)
    withdrawn = CoverRelease.objects.get(area__job=job)
    return {"cover_release_id": withdrawn.id, "observation_id": fault.id}


def _second_factors(shop: Shopful) -> str:
    """One that is on, one that was begun; the secret of the first."""
    begun = factor_begin(shop.member)
    secret = begun.pending
    factor_confirm(shop.member, code=pyotp.TOTP(secret).at(BUILT))
    begun.refresh_from_db()
    begun.last_step = -1
    begun.save()
    factor_begin(shop.builder)
    with_passkey(shop.member)
    return secret


def _ids(shop: Shopful, lived: dict[str, Any], done: Job) -> dict[str, Any]:
    job = lived["job"]
    item = job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN).first()
    deficiency = job.deficiencies.get()
    link, _ = cover_link_make(shop.office, job=job, for_whom="somebody")
    _, placard = placard_make(shop.lead, area=lived["area"])
    token, _ = token_make(shop.office, name="meter", scope=ApiToken.Scope.WRITE)
    feed = feed_open(shop.office, shop=shop.shop)
    notice = the_first(shop.office.notices.all())
    address = the_first(shop.office.addresses.all())
    delivery = the_first(Delivery.objects.filter(shop=shop.shop, person=shop.builder))
    dead(delivery, "the mail server answered 554")
    for lane in Lane:
        deliver(lane, Channel.EMAIL)
    filed = Delivery.objects.filter(shop=shop.shop, state=State.SENT, channel=Channel.EMAIL)
    inspections = {
        "booked": _inspection(shop, done, InspectionKind.FINISH, begun=True),
        "asked": _inspection(shop, done, InspectionKind.FINAL),
    }
    return {
        "job_id": job.id,
        "area_id": lived["area"].id,
        "inspection_id": inspections["asked"],
        "begun_inspection": inspections["booked"],
        "pack_id": pack_make(lived["pack"].id).id,
        "owners_pack": pack_make(pack_ask(shop.office, job=done, kind="close_out").id).id,
        "site_change_id": lived["site_change"].id,
        "deficiency_id": deficiency.id,
        "item_id": item.id,
        "photograph_id": photograph_add(shop.lead, item=item, upload=upload(picture())).id,
        "deficiency_photograph": deficiency_photograph(
            shop.lead, deficiency=deficiency, upload=upload(picture())
        ).id,
        "link_id": link.id,
        "notice_id": notice.id,
        "authority_id": shop.authority.id,
        "plan_id": lived["plan"].id,
        "crew_id": shop.shop.crews.get(lead=shop.lead).id,
        "absence_id": _absence(shop).id,
        "membership_id": Membership.objects.get(person=shop.member).id,
        "invitation_id": the_first(shop.shop.invitations.all()).id,
        "delivery_id": delivery.id,
        "filed": the_first(filed.order_by("id")).id,
        "address_id": address.id,
        "feed_id": feed.id,
        "token_id": token.id,
        "key": "inspections",
        "name": "cec-2021",
        "rule": "box-fill",
        "which": "load",
        "form": "xlsx",
        "secret": lived["cover"],
        "placard": placard,
        "join": lived["join"],
        "token": feed.token,
        "seen": signing.dumps(notice.id.hex, salt="notice seen"),
        "stop": signing.dumps([address.id.hex, "inspection"], salt="notice stop"),
        "paper": check_address(job, job.revisions.last()).split("/")[-2],
    }


def _absence(shop: Shopful) -> Absence:
    return absence_record(
        shop.office,
        shop=shop.shop,
        person=shop.member,
        from_day=date(2026, 3, 30),
        to_day=date(2026, 3, 31),
    )


def _inspection(shop: Shopful, job: Job, kind: InspectionKind, *, begun: bool = False) -> UUID:
    inspection = inspection_ask(shop.office, job=job, kind=kind)
    if begun:
        inspection_happen(
            shop.office,
            inspection=inspection,
            happening=Happening.BOOKED,
            starts_at=NOW - timedelta(hours=1),
            ends_at=NOW + timedelta(hours=1),
        )
    return inspection.id

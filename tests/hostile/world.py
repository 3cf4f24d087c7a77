"""Two shops of one database, each with jobs in every state, each word of theirs marked."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from typing import Any
from uuid import UUID

from allauth.mfa.models import Authenticator
from django.core import signing
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db.models import Model, QuerySet
from django.test import Client
from PIL import Image

from inspections.models import (
    Answer,
    CoverRelease,
    Deficiency,
    DeficiencyPhotograph,
    Inspection,
    InspectionKind,
    Item,
    Link,
    Observation,
    Pack,
    Photograph,
    SiteChange,
)
from inspections.record.checks import check_address
from inspections.services.amendments import limit_amend
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct, deficiency_photograph
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask
from inspections.services.links import cover_link_make, link_withdraw, placard_make
from inspections.services.milestones import milestone_record
from inspections.services.packs import pack_ask
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.photographs import photograph_add
from inspections.services.settling import due_settle
from inspections.services.site_changes import site_change_record
from inspections.services.trades import trade_report
from inspections.standing.stages import Milestone
from jobs.models import (
    Absence,
    ApiToken,
    Area,
    Authority,
    Builder,
    Crew,
    Invitation,
    Job,
    Membership,
    OpenSession,
    Plan,
    Role,
)
from jobs.services.crews import absence_record, crew_open
from jobs.services.people import invitation_make
from jobs.services.tokens import token_make
from notifications.models import Address, Channel, Delivery, Feed, Notice
from notifications.services.feeds import feed_open
from notifications.services.wishes import address_add
from notifications.tasks import tick
from tests.clock import Clock
from tests.inspections.tiny import tiny
from tests.people import Shopful
from tests.sure import sure, the_first

BEGIN = datetime(2026, 3, 2, 16, 0, tzinfo=UTC)  # a Monday, 9:00 at the house
OWN, STRANGE = "Ourmark", "Theirmark"
"""A word that stands in everything the shop ever typed, and one for the shop of strangers."""
STATES = ("new", "roughed in", "called", "accepted", "released", "hooked up", "short", "unknown")
"""How far a job is as a sequence begins."""
TRADES = ["plumbing"]
WALLS = [{"id": side, "length_mm": 3000} for side in "nesw"]


def house_of(marker: str, state: str = "clean", **changed: Any) -> dict[str, Any]:
    """The small house of two areas, every name in it marked; a box of it is on a wall."""
    braces = {"short": 0, "unknown": None}.get(state, 1)
    house: dict[str, Any] = json.loads(tiny(braces=braces, **changed))
    for part in ("areas", "rooms", "storeys", "circuits"):
        for each in house[part]:
            each["name"] = f"{marker} {each['name']}"
    house["name"] = f"{marker} house"
    for room in house["rooms"]:
        room["walls"] = WALLS
    for box in house["boxes"]:
        if box["id"].endswith("-data"):
            box["place"] = {"surface": "wall", "wall": "n", "at_mm": 900, "height_mm": 300}
    return house


def file_of(marker: str, state: str = "clean", **changed: Any) -> bytes:
    """The same as a house file."""
    return json.dumps(house_of(marker, state, **changed)).encode()


def picture() -> SimpleUploadedFile:
    """A photograph that can be read."""
    made = BytesIO()
    Image.new("RGB", (8, 6), "gray").save(made, "JPEG")
    return SimpleUploadedFile("a.jpg", made.getvalue(), "image/jpeg")


class Side:
    """One shop with people, crews, jobs in every state, and one at least of whatever has an id."""

    def __init__(self, marker: str, clock: Clock) -> None:
        self.marker, self.clock = marker, clock
        self.shopful = Shopful(f"{marker} Electric")
        self.office, self.lead = self.shopful.office, self.shopful.lead
        self.shop = self.shopful.shop
        self._mark()
        self.jobs = {state: self._job(state) for state in STATES}
        self.secrets: dict[str, str] = {}
        self._others()

    def _mark(self) -> None:
        shop, authority, firm = self.shop, self.shopful.authority, self.shopful.firm
        shop.trades = TRADES
        shop.save()
        authority.name, authority.elapsed_hours = f"{self.marker} safety codes office", 24
        authority.idle_days = 120
        authority.save()
        firm.name = f"{self.marker} Homes"
        firm.save()
        for membership in shop.memberships.select_related("person"):
            person = membership.person
            person.first_name = self.marker
            person.username = f"{self.marker.lower()}-{person.username}"
            person.save()
        for person in (self.office, self.lead, self.shopful.member, self.shopful.builder):
            person.refresh_from_db()

    def _job(self, state: str) -> Job:
        """A job as far as that, by the services that a shop would use."""
        self.clock.now += timedelta(minutes=1)
        job = self.shopful.job(f"{self.marker} {state}")
        job.address = f"{STATES.index(state) + 1} {self.marker} Lane"
        job.save()
        if state == "new":
            return job
        today = self.clock.now.date()
        permit = permit_apply(self.office, job=job, applied_on=today - timedelta(days=20))
        number = f"{self.marker}-{STATES.index(state)}"
        given = {"issued_on": today - timedelta(days=10), "expires_on": today + timedelta(days=90)}
        permit_issue(self.office, permit=permit, number=number, **given)
        house_record(self.lead, job=job, house=file_of(self.marker, state))
        if state == "roughed in":
            return job
        trade_report(self.office, job=job, trade=TRADES[0])
        self._brought_on(job, state)
        return job

    def _brought_on(self, job: Job, state: str) -> None:
        east, west = (job.areas.get(code=code) for code in ("east", "west"))
        for area in (east, west):
            self.clock.now += timedelta(minutes=5)
            self.shopful.look_at(area)
        reference = f"{self.marker} {STATES.index(state)}"
        if state in ("short", "unknown"):
            self.shopful.release(west, reference)
        elif state == "called":
            self._called(east, reference)
        elif state == "accepted":
            self.shopful.accept(east, reference=reference)
            self.shopful.booked(west)
        else:
            self.shopful.release(east, f"{reference}e")
            self.clock.now += timedelta(minutes=5)
            self.shopful.release(west, f"{reference}w")
        if state == "hooked up":
            milestone_record(
                self.office,
                job=job,
                milestone=Milestone.HOOKUP,
                reached_on=self.clock.now.date(),
                reference=f"{self.marker} authorised",
                circuits=["1"],
            )

    def _called(self, area: Area, reference: str) -> None:
        inspection = self.shopful.booked(area)
        called = [Called(area, f"{self.marker} no plate {n}", rule="box-fill") for n in (1, 2)]
        answers = {area: Answer.NOT_ACCEPTED}
        inspection_answer(
            self.office, inspection=inspection, answers=answers, reference=reference, called=called
        )
        first = the_first(area.deficiencies)
        deficiency_photograph(self.lead, deficiency=first, upload=picture())
        deficiency_correct(self.lead, deficiency=first)

    def _others(self) -> None:
        """One of everything else that has an id or a secret."""
        shop, office, job = self.shop, self.office, self.jobs["released"]
        area, lead, person = job.areas.get(code="east"), self.lead, self.shopful.member
        given = {"rulebook": "cec-2021", "limit": "counter-receptacles.min_width_mm", "unit": "mm"}
        limit_amend(office, shop=shop, value=200, reason=f"{self.marker} by-law", **given)
        inspection_ask(office, job=self.jobs["hooked up"], kind=InspectionKind.FINAL, insist=True)
        for each in (office, lead, self.shopful.builder):
            target = f"{self.marker.lower()}-{each.username}@studbay.example"
            address_add(office, person=each, shop=shop, channel=Channel.EMAIL, target=target)
        days = {"from_day": self.clock.now.date(), "to_day": self.clock.now.date()}
        absence_record(office, shop=shop, person=person, why=f"{self.marker} leave", **days)
        crew_open(
            office,
            shop=shop,
            name=f"{self.marker} crew",
            lead=lead,
            people={lead: days["from_day"], person: days["from_day"]},
        )
        self.plan = Plan.objects.create(
            shop=shop,
            asked_by=office,
            asked_at=self.clock.now,
            made_at=self.clock.now,
            first_day=days["from_day"],
            state=Plan.State.MADE,
        )
        item = area.items.filter(verdict="look").first()
        photograph_add(lead, item=sure(item), upload=picture())
        pack_ask(office, job=job, kind="inspector")
        token_make(office, name=f"{self.marker} meter", scope=ApiToken.Scope.WRITE)
        site_change_record(
            lead,
            job=job,
            site_change_id=_identity(self.marker),
            box="east-data",
            at_mm=700.0,
            note=f"{self.marker} moved",
        )
        self._secrets(job, area)

    def _secrets(self, job: Job, area: Area) -> None:
        office, shop = self.office, self.shop
        for name, whom in (("cover", "Pat"), ("gone", "Sam")):
            link, self.secrets[name] = cover_link_make(
                office, job=job, for_whom=f"{self.marker} {whom}"
            )
        link_withdraw(office, link=link)
        for state in ("accepted", "hooked up"):
            _, self.secrets[state] = cover_link_make(
                office, job=self.jobs[state], for_whom=f"{self.marker} Pat"
            )
        _, self.secrets["placard"] = placard_make(self.lead, area=area)
        _, self.secrets["join"] = invitation_make(
            office, shop=shop, role=Role.CREW_LEAD, for_whom=f"{self.marker} Rowan"
        )
        self.secrets["feed"] = feed_open(office, shop=shop).token
        feed_open(office, shop=shop, job=job)
        self.secrets["paper"] = check_address(job, sure(job.revisions.last())).split("/")[-2]

    def signed(self) -> None:
        """What is signed rests on what the settling gave."""
        notice = the_first(Notice.objects.filter(person=self.office))
        address = the_first(Address.objects.filter(person=self.office))
        self.secrets["seen"] = signing.dumps(str(notice.id), salt="notice seen")
        for name, kind in (("stop", "inspection"), ("stop unknown", "inspections")):
            signed = signing.dumps([str(address.id), kind], salt="notice stop")
            self.secrets[name] = signed

    def found(self, parameter: str, job: Job | None = None) -> QuerySet[Model]:
        """Whatever of the shop an address's parameter could be, of one job where it is of jobs."""
        model, to_shop = OWNED[parameter]
        rows = model._default_manager.all()
        if (job is not None and to_shop.startswith("job")) or (
            job is not None and "__job__" in to_shop
        ):
            rows = rows.filter(**{to_shop.removesuffix("__shop"): job})
        else:
            rows = rows.filter(**{to_shop: self.shop})
        return rows.order_by("pk")


OWNED: dict[str, tuple[type[Model], str]] = {
    "job_id": (Job, "shop"),
    "area_id": (Area, "job__shop"),
    "item_id": (Item, "job__shop"),
    "inspection_id": (Inspection, "job__shop"),
    "deficiency_id": (Deficiency, "job__shop"),
    "site_change_id": (SiteChange, "job__shop"),
    "link_id": (Link, "job__shop"),
    "pack_id": (Pack, "job__shop"),
    "photograph_id": (Photograph, "item__job__shop"),
    "deficiency_photograph_id": (DeficiencyPhotograph, "deficiency__job__shop"),
    "cover_release_id": (CoverRelease, "area__job__shop"),
    "observation_id": (Observation, "item__job__shop"),
    "notice_id": (Notice, "shop"),
    "delivery_id": (Delivery, "shop"),
    "address_id": (Address, "shop"),
    "feed_id": (Feed, "shop"),
    "plan_id": (Plan, "shop"),
    "crew_id": (Crew, "shop"),
    "absence_id": (Absence, "shop"),
    "membership_id": (Membership, "shop"),
    "invitation_id": (Invitation, "shop"),
    "authority_id": (Authority, "shop"),
    "builder_id": (Builder, "shop"),
    "token_id": (ApiToken, "person__memberships__shop"),
    "session_id": (OpenSession, "person__memberships__shop"),
    "passkey_id": (Authenticator, "user__memberships__shop"),
}
"""For each parameter of an address, what it names and the way from that to its shop."""


class World:
    """Both shops and a signed-in client for everybody who may call."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.ours, self.theirs = Side(OWN, clock), Side(STRANGE, clock)
        due_settle()
        tick()  # so that no sequence has to send what was told before it began
        for side in (self.ours, self.theirs):
            side.signed()
        ours = self.ours.shopful
        self.people = {
            "office": ours.office,
            "lead": ours.lead,
            "member": ours.member,
            "builder": ours.builder,
            "stranger": self.theirs.office,
        }
        self.clients = dict(self._clients())
        self.ready_at = clock.now

    def is_in(self, who: str, side: "Side") -> bool:
        """Whether somebody is in that shop by now: a stranger may come upon an invitation."""
        found = Membership.objects.filter(shop=side.shop, person=self.people.get(who))
        return found.exists()

    def _clients(self) -> Iterator[tuple[str, Client]]:
        for name, person in self.people.items():
            client = Client(raise_request_exception=False)
            client.force_login(person)
            yield name, client
        yield "nobody", Client(raise_request_exception=False)


def _identity(marker: str) -> UUID:
    return UUID(f"{len(marker):08x}-2222-4333-8444-555555555555")

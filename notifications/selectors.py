"""Reads of notices, of how they went out, and of calendars."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from email import message_from_bytes, policy
from email.message import EmailMessage
from hmac import compare_digest
from itertools import groupby
from typing import Any
from uuid import UUID

from django.db.models import Exists, OuterRef, Q, QuerySet

from config.languages import spoken_to
from config.messages.message import Joined, Value
from inspections.models import CoverRelease, Inspection
from jobs.models import Job, Membership, Person, Role, Shop
from jobs.secrets import digest_of
from jobs.selectors import jobs_visible_to
from notifications.calendars import inspection_calendar
from notifications.channels.email import message_id
from notifications.channels.mail_files import file_of
from notifications.messages.choices import STATES
from notifications.messages.mail import BY, ON_SITE
from notifications.messages.reasons import NAMES
from notifications.models import CHANNELS, Address, Channel, Delivery, Feed, Gateway, Notice, State


def unseen_notices(person: Person) -> QuerySet[Notice]:
    """What the person was told, has not seen and still stands, the latest first."""
    found = _notices_of(person).filter(seen_at__isnull=True, moot_at__isnull=True)
    of_cover = found.filter(reason__in=(RELEASED, WITHDRAWN)).select_related("handed_from")
    return found.exclude(id__in=contradicted(of_cover))


RELEASED, WITHDRAWN = "area released", "cover release withdrawn"
"""Reasons whose occasion is a cover release."""


def contradicted(notices: Iterable[Notice]) -> set[UUID]:
    """Those of the notices that the cover releases contradict as they are now.

    A worker marks them as moot; until one does, nobody is to read "do not cover" above OK TO
    COVER, or that an area may be covered above DO NOT COVER.
    """
    told = {}
    for notice in notices:
        if notice.reason in (RELEASED, WITHDRAWN):
            # One that went on to somebody else is about what the first of them was about.
            first = notice.handed_from or notice
            told[notice.id] = (notice.reason, first.occasion)
    if not told:
        return set()
    moot = _moot_now({UUID(occasion) for _, occasion in told.values()})
    contradicted_ids: set[UUID] = set()
    for notice_id, each in told.items():
        if each in moot:
            contradicted_ids.add(notice_id)
    return contradicted_ids


def _moot_now(cover_release_ids: set[UUID]) -> set[tuple[str, str]]:
    """The reasons and occasions that these cover releases contradict."""
    released = CoverRelease.objects.filter(area=OuterRef("area"), withdrawn_at__isnull=True)
    cover_releases = CoverRelease.objects.filter(id__in=cover_release_ids)
    moot: set[tuple[str, str]] = set()
    for cover_release in cover_releases.annotate(released=Exists(released)):
        if not cover_release.live:
            moot.add((RELEASED, str(cover_release.id)))
        if cover_release.released:
            moot.add((WITHDRAWN, str(cover_release.id)))
    return moot


def notice_read(person: Person, notice_id: UUID) -> Notice:
    """One of a person's own, about what they may still see; else Notice.DoesNotExist."""
    return _notices_of(person).get(id=notice_id)


def _notices_of(person: Person) -> QuerySet[Notice]:
    """A person's notices about jobs that they may see, and about shops in which they are."""
    theirs = Q(job__in=jobs_visible_to(person)) | Q(job__isnull=True, shop__in=_shops(person))
    found = Notice.objects.filter(theirs, person=person)
    return found.select_related("job__standing", "shop")


def _shops(person: Person) -> QuerySet[Membership, Mapping[str, object]]:
    return Membership.objects.filter(person=person).values("shop")


def notice_of_link(notice_id: UUID) -> Notice | None:
    """The notice that a link is about."""
    return Notice.objects.select_related("person", "job").filter(id=notice_id).first()


def addresses_of(person: Person) -> QuerySet[Address]:
    """How a person is reached, the first tried first."""
    return Address.objects.filter(person=person, ended_at=None).select_related("gateway")


def _offices(person: Person) -> QuerySet[Membership, Mapping[str, object]]:
    return Membership.objects.filter(person=person, role=Role.OFFICE).values("shop")


def address_read(person: Person, address_id: UUID) -> Address:
    """An address of one's own, or of a shop whose office one keeps; else Address.DoesNotExist."""
    theirs = Q(person=person) | Q(shop__in=_offices(person))
    return Address.objects.select_related("person", "shop").get(
        theirs, id=address_id, ended_at=None
    )


def delivery_read(person: Person, delivery_id: UUID) -> Delivery:
    """A delivery of a shop whose office one keeps, or Delivery.DoesNotExist."""
    own = Delivery.objects.filter(shop__in=_offices(person))
    return own.select_related("shop", "address").get(id=delivery_id)


def deliveries_filed(person: Person) -> list[Delivery]:
    """The latest e-mails that went to files, of the shops whose office the person keeps."""
    own = Delivery.objects.filter(shop__in=_offices(person), channel=Channel.EMAIL)
    sent = own.filter(state=State.SENT).select_related("address").prefetch_related("notices")
    latest = sent.order_by("-ended_at", "-id")[:200]
    filed: list[Delivery] = []
    for each in latest:
        if file_of(message_id(each)).exists():
            filed.append(each)
    return filed


def filed_message(delivery: Delivery) -> EmailMessage | None:
    """The message of a delivery as it was filed, or None."""
    path = file_of(message_id(delivery))
    if not path.exists():
        return None
    return message_from_bytes(path.read_bytes(), policy=policy.default)


@dataclass(frozen=True, slots=True)
class Recipient:
    """One person who was told, whether they have seen it, and by what it went."""

    person: Person
    handed_from: Person | None
    seen_at: datetime | None
    way: Value


@dataclass(slots=True)
class GivenNotice:
    """One thing that was told about a job, and everybody who was."""

    reason: Value
    text: Any
    """As it is stored."""
    at: datetime
    urgent: bool
    moot: bool
    people: list[Recipient] = field(default_factory=list)


def given_for_job(job: Job) -> list[GivenNotice]:
    """What was told about a job, the latest first."""
    notices = Notice.objects.filter(job=job).select_related("person", "handed_from__person")
    notices = notices.prefetch_related("deliveries__address")
    not_so = contradicted(notices)

    def occasion(notice: Notice) -> tuple[datetime, str, str]:
        first = notice.handed_from or notice
        return (first.due_at, first.reason, first.occasion)

    found = []
    for _, group in groupby(sorted(notices, key=occasion, reverse=True), key=occasion):
        members = sorted(group, key=lambda n: n.id)
        first = members[0]
        moot = first.moot_at is not None or first.id in not_so
        given = GivenNotice(_name(first.reason), first.text, first.due_at, first.urgent, moot)
        for notice in members:
            origin = None
            if notice.handed_from:
                origin = notice.handed_from.person
            given.people.append(
                Recipient(
                    notice.person, origin, notice.seen_at, _way(list(notice.deliveries.all()))
                )
            )
        found.append(given)
    return found


def _name(reason: str) -> Value:
    """A reason as a heading calls it; one of a version before by its id."""
    if reason in NAMES:
        return NAMES[reason]()
    return reason


def _way(deliveries: Sequence[Delivery]) -> Value:
    """By what a notice went, in order of the steps."""
    steps = sorted(deliveries, key=lambda delivery: (delivery.step, delivery.id))
    words = []
    for each in steps:
        words.append(BY(channel=CHANNELS[Channel(each.channel)](), state=STATES[each.state]()))
    if not words:
        return ON_SITE()
    return Joined(tuple(words), "; ")


@dataclass(frozen=True, slots=True)
class Troubles:
    """What of a shop's messages did not arrive."""

    paused: QuerySet[Address]
    dead: QuerySet[Delivery]
    waiting: QuerySet[Delivery]
    gateways: QuerySet[Gateway]


def office_troubles(shop: Shop) -> Troubles:
    """Paused addresses, what was given up in the last of them, what waits for another try."""
    deliveries = Delivery.objects.filter(shop=shop).select_related("person", "address")
    return Troubles(
        Address.objects.filter(shop=shop, paused_at__isnull=False, ended_at=None).select_related(
            "person"
        ),
        deliveries.filter(state=State.DEAD).prefetch_related("notices").order_by("-ended_at")[:100],
        deliveries.filter(state=State.DUE).exclude(fault="").order_by("due_at")[:100],
        shop.gateways.order_by("name"),
    )


def feeds_of(person: Person) -> QuerySet[Feed]:
    """The calendars that a person opened, did not withdraw, and may still follow."""
    still = Q(shop__in=_shops(person)) & (Q(job=None) | Q(job__in=jobs_visible_to(person)))
    own = Feed.objects.filter(still, person=person, withdrawn_at__isnull=True)
    return own.select_related("job", "builder", "lead", "person")


def feed_read(person: Person, feed_id: UUID) -> Feed:
    """One of them, or Feed.DoesNotExist."""
    return feeds_of(person).get(id=feed_id)


def _feed_of(token: str) -> Feed | None:
    """The calendar of that token; also one that the version before made while it was replaced."""
    if found := Feed.objects.filter(digest=digest_of(token)).first():
        return found
    before = Feed.objects.filter(digest=None)
    for each in before:
        if compare_digest(each.token, token):
            return each
    return None


def feed_calendar(token: str) -> bytes | None:
    """The calendar of a link, as its maker may see it now; None when it opens nothing."""
    feed = _feed_of(token)
    if feed is None or not feed.person.is_active:
        return None
    if feed.withdrawn_at is not None:
        gone = not Membership.objects.filter(person=feed.person, shop=feed.shop).exists()
        if gone:
            return inspection_calendar((), str(feed.person))
        return None
    if not feeds_of(feed.person).filter(id=feed.id).exists():
        return inspection_calendar((), str(feed.person))  # so that a program forgets what it showed
    jobs = jobs_visible_to(feed.person).filter(shop=feed.shop)
    if feed.scope == Feed.Scope.JOB:
        assert feed.job_id is not None
        jobs = jobs.filter(id=feed.job_id)
    elif feed.scope == Feed.Scope.BUILDER:
        jobs = jobs.filter(builder=feed.builder_id)
    elif feed.scope == Feed.Scope.CREW:
        jobs = jobs.filter(crew_lead=feed.lead_id)
    elif Membership.objects.filter(person=feed.person, shop=feed.shop, role=Role.CREW_LEAD):
        jobs = jobs.filter(crew_lead=feed.person)
    inspections = Inspection.objects.filter(job__in=jobs).select_related("job__shop")
    inspections = inspections.prefetch_related("events", "areas").order_by("id")
    with spoken_to(feed.person.language, feed.person.units):
        return inspection_calendar(inspections, str(feed))

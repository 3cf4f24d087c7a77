"""Comparing what people were told with what must have been told."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from uuid import UUID

from django.db.models import Q

from audit.found import About, Found, difference, state
from audit.tables import JobTables, Row
from audit.told import DRAWN, NEWS, Telling, people_of, tellings
from jobs import models as jobs
from notifications import models as notifications

LOOK_BACK = timedelta(days=30)
"""What was to be told longer ago than this is left alone."""
SENDING = timedelta(minutes=10)
"""So long a batch of messages may be on its way after it was looked at."""
WAITING = timedelta(hours=1)
"""A message that is due for longer waits for something."""


@dataclass
class JobNotices:
    """What people were told of one job, and who is in its shop."""

    notices: list[Row] = field(default_factory=list)
    """Not moot, or given lately."""
    deliveries: list[Row] = field(default_factory=list)
    """Of those notices; one of several notices comes once for each."""
    members: list[Row] = field(default_factory=list)
    names: dict[UUID, str] = field(default_factory=dict)
    wishes: dict[tuple[UUID, str], str] = field(default_factory=dict)
    reached: dict[UUID, list[UUID]] = field(default_factory=dict)
    """Addresses that work, by person."""


def read_told(found: dict[UUID, JobTables], now: datetime) -> dict[UUID, JobNotices]:
    """What was told of these jobs, by job."""
    told = {}
    for job_id in found:
        told[job_id] = JobNotices()
    lately = Q(moot_at__isnull=True) | Q(given_at__gte=now - LOOK_BACK)
    rows = notifications.Notice.objects.filter(lately, job__in=found).order_by("id")
    columns: tuple[str, ...] = (
        "id",
        "job_id",
        "shop_id",
        "person_id",
        "reason",
        "kind",
        "occasion",
        "urgent",
    )
    moments = ("given_at", "moot_at", "seen_at", "handed_from_id")
    notices = list(rows.values_list(*columns, *moments, named=True))
    job_of = {}
    for notice in notices:
        told[notice.job_id].notices.append(notice)
        job_of[notice.id] = notice.job_id
    links = notifications.Delivery.notices.through.objects.filter(notice__in=job_of)
    columns = ("id", "person_id", "shop_id", "address_id", "address__person_id", "state", "step")
    columns = (*columns, "digest", "due_at", "ended_at")
    of_delivery = []
    for column in columns:
        of_delivery.append(f"delivery__{column}")
    for link in links.order_by("id").values_list("notice_id", *of_delivery, named=True):
        told[job_of[link.notice_id]].deliveries.append(link)
    _read_people(found, told)
    return told


def _read_people(found: dict[UUID, JobTables], told: dict[UUID, JobNotices]) -> None:
    shops = set()
    for tables in found.values():
        shops.add(tables.job.shop_id)
    rows = jobs.Membership.objects.filter(shop__in=shops, person__is_active=True).order_by("id")
    columns = ("shop_id", "person_id", "role", "builder_id")
    members = defaultdict(list)
    for member in rows.values_list(*columns, named=True):
        members[member.shop_id].append(member)
    people = set()
    for each in told.values():
        for notice in each.notices:
            people.add(notice.person_id)
    for each in members.values():
        for member in each:
            people.add(member.person_id)
    names = dict(jobs.Person.objects.filter(id__in=people).values_list("id", "username"))
    wishes = notifications.Wish.objects.filter(person__in=people)
    wished = {}
    for w in wishes:
        wished[(w.person_id, w.kind)] = w.way
    works = notifications.Address.objects.filter(person__in=people, paused_at=None, ended_at=None)
    reached = defaultdict(list)
    for person_id, address_id in works.values_list("person_id", "id"):
        reached[person_id].append(address_id)
    for job_id, tables in found.items():
        told[job_id].members = members[tables.job.shop_id]
        told[job_id].names, told[job_id].wishes, told[job_id].reached = names, wished, reached


def compare_told(tables: JobTables, told: JobNotices, now: datetime) -> Iterator[Found]:
    """What was told and does not hold, or holds and was not told, at a moment."""
    people = people_of(tables, told.members)
    due = list(tellings(tables, people))
    yield from _not_told(tables, told, due, now)
    yield from _told_falsely(told, due, now)


def _name(tables: JobTables, area_id: UUID | None) -> str:
    for area in tables.areas:
        if area.id == area_id:
            name: str = area.name
            return name
    return ""


def _not_told(
    tables: JobTables, told: JobNotices, due: Sequence[Telling], now: datetime
) -> Iterator[Found]:
    given = {}
    anybody = set()
    for notice in told.notices:
        if not notice.handed_from_id:
            given[(notice.reason, notice.occasion, notice.person_id)] = notice
            anybody.add((notice.reason, notice.occasion))
    for telling in due:
        area = _name(tables, telling.area_id)
        since = f"{telling.reason}, since {telling.at:%Y-%m-%d %H:%M} UTC"
        if telling.stands(now):
            for person in sorted(telling.to):
                notice = given.get((telling.reason, telling.occasion, person))
                if says := _lacking(notice, told.names[person]):
                    yield difference(About.NOTICE, says, since, area)
            continue
        was_news = telling.to and telling.at + NEWS <= now < telling.at + LOOK_BACK
        if was_news and (telling.reason, telling.occasion) not in anybody:
            # the news is over, so nobody will be told: worth knowing, and nothing to put right
            yield state(About.NOTICE, "nobody was told", since, area)


def _lacking(notice: Row | None, name: str) -> str:
    """What is wrong with the notice that somebody must have; empty where nothing is."""
    if notice is None:
        return f"no notice to {name}"
    if notice.moot_at is not None:
        return f"the notice to {name} is withdrawn"
    return ""


def _told_falsely(told: JobNotices, due: Sequence[Telling], now: datetime) -> Iterator[Found]:
    holds = set()
    for telling in due:
        if telling.stands(now):
            for person in telling.to:
                holds.add((telling.reason, telling.occasion, person))
    for notice in told.notices:
        key = (notice.reason, notice.occasion, notice.person_id)
        standing = notice.moot_at is None and notice.handed_from_id is None
        if standing and notice.reason in DRAWN and key not in holds:
            says = f"{told.names[notice.person_id]} is told: {notice.reason}"
            yield difference(About.NOTICE, says, "that does not hold")


def compare_sent(tables: JobTables, told: JobNotices, now: datetime) -> Iterator[Found]:
    """What is true of every notice and message, whatever it tells, and of who leads the job."""
    lead = tables.job.crew_lead_id
    if lead is not None and not any(member.person_id == lead for member in told.members):
        yield difference(About.SHOP, "the crew lead", "is not in the shop of the job")
    roles = {}
    for member in told.members:
        roles[member.person_id] = member
    sent = defaultdict(list)
    for link in told.deliveries:
        sent[link.notice_id].append(link)
    for notice in told.notices:
        name = told.names[notice.person_id]
        yield from _may_know(tables, notice, roles.get(notice.person_id), name)
        yield from _messages(notice, sent[notice.id], name, now)
        yield from _on_its_way(told, notice, sent[notice.id], name, now)


def _may_know(tables: JobTables, notice: Row, member: Row, name: str) -> Iterator[Found]:
    if notice.shop_id != tables.job.shop_id:
        yield difference(About.SHOP, f"a notice to {name} is of another shop", "the job is not")
    if notice.moot_at is not None:
        return
    if member is None:
        says = f"a notice to {name} stands: {notice.reason}"
        yield difference(About.NOTICE, says, f"{name} is not in the shop")
    elif member.builder_id not in (None, tables.job.builder_id):
        says = f"a notice to {name} stands: {notice.reason}"
        yield difference(About.NOTICE, says, f"{name} works for another builder")


def _messages(notice: Row, links: Sequence[Row], name: str, now: datetime) -> Iterator[Found]:
    sent = [link for link in links if link.delivery__state == "sent"]
    if _told_twice(sent):
        says = f"{name} was sent “{notice.reason}” {len(sent)} times"
        yield difference(About.DELIVERY, says, "it is to be told once")
    for link in links:
        yield from _message(notice, link, name, now)


def _told_twice(sent: Sequence[Row]) -> bool:
    """Whether a notice went out more than once at first, or more than once to one address."""
    first = sum(link.delivery__step == 0 for link in sent)
    addresses = {link.delivery__address_id for link in sent}
    return first > 1 or len(addresses) < len(sent)


def _message(notice: Row, link: Row, name: str, now: datetime) -> Iterator[Found]:
    """What is wrong with one message of a notice."""
    person = {link.delivery__person_id, link.delivery__address__person_id}
    if person != {notice.person_id}:
        says = f"a message about “{notice.reason}” to {name} goes to somebody else"
        yield difference(About.DELIVERY, says, f"it is for {name}")
    ended, moot = link.delivery__ended_at, notice.moot_at
    was_sent = link.delivery__state == "sent"
    if was_sent and moot is not None and ended > moot + SENDING:
        says = f"{name} was sent “{notice.reason}”"
        yield difference(About.DELIVERY, says, "that did not hold any more")
    if link.delivery__state == "due" and link.delivery__due_at < now - WAITING:
        says = f"a message to {name} waits since {link.delivery__due_at:%Y-%m-%d %H:%M} UTC"
        yield state(About.DELIVERY, says, "it was due then")


def _on_its_way(
    told: JobNotices, notice: Row, links: Sequence[Row], name: str, now: datetime
) -> Iterator[Found]:
    """A fresh notice to somebody who can be reached, and wished nothing else, has a message."""
    fresh = notice.moot_at is None and notice.seen_at is None and notice.given_at > now - NEWS
    if not fresh or links or (notice.person_id, notice.kind) in told.wishes:
        return
    before = []
    for address in told.reached.get(notice.person_id, ()):
        if address < notice.id:
            before.append(address)
    if before:
        says = f"no message was made for {name}: {notice.reason}"
        yield difference(About.DELIVERY, says, f"{name} has an address that works")

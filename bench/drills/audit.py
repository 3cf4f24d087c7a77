"""The whole database against what people were told."""

import hashlib
import time
from collections import Counter
from dataclasses import dataclass
from datetime import timedelta

from .crowd import Book
from .migrating import halves
from .stack import Stack

SETTLES_WITHIN = 120.0  # seconds


@dataclass(frozen=True, slots=True)
class AuditLine:
    """One line of the table: what, how much, and how much there may be."""

    what: str
    found: float
    most: float

    @property
    def holds(self) -> bool:
        """Whether it is within its goal."""
        return self.found <= self.most


def settled(ahead: timedelta = timedelta(minutes=5)) -> float:
    """Seconds until nothing is due by then any more: no job behind its facts, no message.

    What waits for a moment further ahead than that was made while the clock was wrong.
    """
    from django.db import connections
    from django.db.models import F, Q
    from django.utils import timezone

    from inspections.models import JobStanding
    from notifications.models import Delivery, State

    connections.close_all()  # ours died with the server
    began = time.monotonic()
    while time.monotonic() - began < SETTLES_WITHIN:
        now = timezone.now()
        behind = Q(settled__lt=F("facts")) | Q(next_at__lte=now)
        jobs = JobStanding.objects.filter(behind).count()
        messages = Delivery.objects.filter(state=State.DUE, due_at__lte=now + ahead).count()
        if not jobs and not messages:
            return time.monotonic() - began
        time.sleep(0.3)
    return float("inf")


def swept(stack: Stack) -> float:
    """Seconds until the sweep finds a job whose moment has come, of which no message tells.

    What waits on the queues is taken away first, since it might be about that job; what a worker
    has in hand is over a moment later.
    """
    from django.utils import timezone

    from inspections.models import JobStanding

    job = JobStanding.objects.order_by("job_id").values_list("job", flat=True)[0]
    stack.empty_broker()
    time.sleep(3)
    began, now = time.monotonic(), timezone.now()
    JobStanding.objects.filter(job=job).update(next_at=now)
    while JobStanding.objects.filter(job=job, next_at__lte=now).exists():
        if time.monotonic() - began > SETTLES_WITHIN:
            return float("inf")
        time.sleep(0.1)
    return time.monotonic() - began


def _photographs_lost(book: Book) -> int:
    """Photographs that were kept, by what people were told, and are not there as they came."""
    from inspections.models import Photograph

    had = {str(each.id): each for each in Photograph.objects.filter(id__in=list(book.pictured))}
    lost = 0
    for name, item in book.pictured.items():
        each = had.get(name)
        if each is None:
            lost += 1
            continue
        try:
            whole = hashlib.sha256(each.file.read()).hexdigest() == each.digest
        except OSError:
            whole = False
        lost += not whole or str(each.item_id) != item
    return lost


def audited(stack: Stack, book: Book, kills: int) -> list[AuditLine]:
    """Every promise, with what was found."""
    from django.utils import timezone

    from inspections.conclusions.areas import areas_holds
    from inspections.models import CoverRelease, Observation
    from inspections.record.chain import record_faults
    from jobs.models import Area, Job
    from notifications.channels.email import message_id
    from notifications.models import Delivery, Notice, State

    had = {}
    for each in Observation.objects.filter(id__in=list(book.kept)):
        had[str(each.id)] = (str(each.item_id), each.outcome)
    lost = sum(had.get(name) != kept for name, kept in book.kept.items())
    issued = set()
    for i in CoverRelease.objects.values_list("id", flat=True):
        issued.add(str(i))
    lost += sum(name not in issued for name in book.released)
    live = CoverRelease.objects.filter(withdrawn_at=None).values_list("area", flat=True)
    areas = list(Area.objects.filter(id__in=live).select_related("job__authority", "job__shop"))
    holds = {}
    if areas:
        holds = areas_holds(areas, timezone.now())
    held = sum(bool(each) for each in holds.values())
    told = Counter(Notice.objects.values_list("person", "reason", "occasion", "job"))
    twice = sum(count - 1 for count in told.values())
    unsent = Delivery.objects.filter(state=State.DUE).count()
    failed = Delivery.objects.filter(state=State.DEAD).count()
    mails = Counter(stack.taken())
    sent = Delivery.objects.filter(state=State.SENT)
    missing = sum(message_id(each) not in mails for each in sent)
    doubles = sum(count - 1 for count in mails.values())
    broken = sum(bool(list(record_faults(job.id))) for job in Job.objects.all())
    return [
        AuditLine("acknowledged writes lost", lost, 0),
        AuditLine("acknowledged photographs lost or altered", _photographs_lost(book), 0),
        AuditLine("calls done twice under one key", len(book.twice), 0),
        AuditLine("migrations applied in part", halves(stack.migrated), 0),
        AuditLine("cover releases with a hold", held, 0),
        AuditLine("notices lost: unsent, given up, or never arrived", unsent + failed + missing, 0),
        AuditLine("notices given, at the least 20", -Notice.objects.count(), -20),
        AuditLine("mails arrived, at the least 3", -len(mails), -3),
        AuditLine("notices given twice", twice, 0),
        AuditLine("mails that went twice (bounded by kills)", doubles, kills),
        AuditLine("records broken", broken, 0),
        AuditLine("requests answered wrongly", len(book.wrong), 0),
    ]

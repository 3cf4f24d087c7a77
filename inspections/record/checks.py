"""Whether a paper is still what stands: an address on it tells, signed, without an account."""

from base64 import urlsafe_b64decode, urlsafe_b64encode
from dataclasses import dataclass
from uuid import UUID

from django.conf import settings
from django.core import signing
from django.urls import reverse

from inspections.models import HouseRevision
from inspections.selectors import latest_revision
from jobs.models import Job

SALT = "a paper"


class NoPaper(Exception):
    """The address is on no paper of ours, or was altered."""


@dataclass(frozen=True, slots=True)
class Paper:
    """What a paper was made of, and what has come since."""

    job: Job
    revision: int
    entries: int
    """Entries of the job's record when it was made."""
    latest_revision: int
    since: int
    """Entries of the record since."""

    @property
    def current(self) -> bool:
        """Whether nothing was recorded since."""
        return not self.since


def check_address(job: Job, revision: HouseRevision) -> str:
    """Where a paper of this revision, as things stand, can be checked."""
    said = f"{_short(job.id)}.{revision.number}.{job.record.count()}"
    token = signing.Signer(salt=SALT).sign(said)
    return f"{settings.SITE_URL}{reverse('paper', args=[token])}"


def paper_of(token: str) -> Paper:
    """The paper of an address. Raises NoPaper."""
    try:
        job_id, revision, entries = signing.Signer(salt=SALT).unsign(token).split(".")
        number, counted = int(revision), int(entries)
        job = Job.objects.select_related("shop").get(id=_long(job_id))
    except (signing.BadSignature, ValueError, TypeError, Job.DoesNotExist):
        # Signed by us is not made by this version: what is inside may be anything.
        raise NoPaper from None
    latest = latest_revision(job)
    now = 0
    if latest:
        now = latest.number
    return Paper(job, number, counted, now, job.record.count() - counted)


def _short(identity: UUID) -> str:
    """An id in 22 letters, since an address on paper may have to be typed."""
    return urlsafe_b64encode(identity.bytes).decode().rstrip("=")


def _long(text: str) -> UUID:
    return UUID(bytes=urlsafe_b64decode(f"{text}=="))

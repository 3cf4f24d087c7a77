"""Writes of links that open one thing without an account."""

from datetime import datetime, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from inspections.models import CoverRelease, Link, Pack
from inspections.services import refusal_messages as words
from jobs.access import SITE_ROLES, require_role
from jobs.models import Area, Job, Person, Role
from jobs.secrets import digest_of, new_secret

LONGEST = 400  # days


def cover_link_make(actor: Person, *, job: Job, for_whom: str, days: int = 120) -> tuple[Link, str]:
    """A link to what may be covered on a job, and its secret, which is shown only once."""
    require_role(actor, job.shop, Role.OFFICE)
    if not for_whom.strip():
        raise ValidationError({"for_whom": said_later(words.LINK_FOR_WHOM())})
    if not 1 <= days <= LONGEST:
        raise ValidationError({"days": said_later(words.LINK_DAYS(most=LONGEST))})
    now = timezone.now()
    given = {"for_whom": for_whom.strip(), "expires_at": now + timedelta(days=days)}
    return _make(actor, job=job, kind=Link.Kind.COVER, made_at=now, **given)


def placard_make(actor: Person, *, area: Area) -> tuple[Link, str]:
    """A link for the placard of an area, tied to the cover release that is live now, if any."""
    require_role(actor, area.job.shop, *SITE_ROLES)
    live = CoverRelease.objects.filter(area=area, withdrawn_at__isnull=True).first()
    given = {"area": area, "cover_release": live}
    now = timezone.now()
    return _make(actor, job=area.job, kind=Link.Kind.PLACARD, made_at=now, **given)


def appendix_link_make(pack: Pack, *, expires_at: datetime) -> tuple[Link, str]:
    """The link to the appendix of a pack, for the code on its sheet; one made before is gone."""
    pack.links.all().delete()
    return _make(
        pack.asked_by,
        job=pack.job,
        pack=pack,
        kind=Link.Kind.APPENDIX,
        made_at=timezone.now(),
        expires_at=expires_at,
    )


def _make(actor: Person, **given: object) -> tuple[Link, str]:
    secret = new_secret()
    link = Link(made_by=actor, digest=digest_of(secret), **given)
    link.full_clean()
    link.save()
    return link, secret


def link_withdraw(actor: Person, *, link: Link) -> Link:
    """Take a link back; whoever holds it reads that it is no longer good."""
    require_role(actor, link.job.shop, Role.OFFICE)
    with transaction.atomic():
        fresh = Link.objects.select_for_update().get(id=link.id)
        if fresh.withdrawn_at is None:
            fresh.withdrawn_at = timezone.now()
            fresh.save(update_fields=["withdrawn_at"])
    return fresh


def link_acknowledge(link: Link) -> Link:
    """Keep that whoever holds the link has seen the present state."""
    link.acknowledged_at = timezone.now()
    link.save(update_fields=["acknowledged_at"])
    return link

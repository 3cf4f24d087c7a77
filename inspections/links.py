"""What a link opens, read anew each time: the state is never in the link or on the paper."""

from dataclasses import dataclass
from datetime import datetime

from django.utils import timezone

from config.messages.message import Text
from config.messages.saying import said
from inspections.conclusions.areas import today_at
from inspections.conclusions.signs import job_age
from inspections.models import CoverRelease, Link
from inspections.standing import link_messages as words
from inspections.standing.age import Sign, sign_at
from jobs.secrets import digest_of


class LinkGone(Exception):
    """The link was good once and no longer is; the text says why and whom to ask."""

    def __init__(self, text: Text) -> None:
        super().__init__(said(text))
        self.text = text


def link_open(secret: str) -> Link:
    """The link of that secret.

    Raises Link.DoesNotExist when there is none, LinkGone when it ran out or was withdrawn.
    """
    links = Link.objects.select_related(
        "job__shop", "job__standing", "job__permit", "area__standing", "cover_release"
    )
    link = links.get(digest=digest_of(secret))
    now = timezone.now()
    if link.withdrawn_at is not None:
        raise LinkGone(words.WITHDRAWN(shop=str(link.job.shop)))
    if link.expires_at is not None and link.expires_at <= now:
        day = today_at(link.job, link.expires_at)
        raise LinkGone(words.EXPIRED(day=day, shop=str(link.job.shop)))
    return link


@dataclass(frozen=True, slots=True)
class PlacardState:
    """What a placard says when it is scanned."""

    sign: Sign
    since: datetime | None
    """When the area was released, or its last cover release was withdrawn."""
    cover_release: CoverRelease | None
    """The live cover release."""
    warning: Text | None = None
    """What is wrong with the paper itself."""


def placard_state(link: Link) -> PlacardState:
    """The live state of a placard's area, and whether the paper is of another cover release."""
    area, printed = link.area, link.cover_release
    assert area is not None  # a placard is of one
    cover_releases = CoverRelease.objects.filter(area=area).select_related(
        "issued_by", "acceptance"
    )
    latest = cover_releases.order_by("issued_at", "id").last()
    live = None
    if latest is not None and latest.live and area.standing.released:
        live = latest
    if live:
        since = live.issued_at
    else:
        since = None
        if latest:
            since = latest.withdrawn_at
    sign = sign_at(live is not None, job_age(link.job))
    return PlacardState(sign, since, live, _warning(printed, live))


def _warning(printed: CoverRelease | None, live: CoverRelease | None) -> Text | None:
    if printed is None or (live is not None and live.id == printed.id):
        return None
    if live is None:
        return words.PLACARD_WITHDRAWN()
    return words.PLACARD_REPLACED()

"""Writes of photographs."""

import hashlib
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NamedTuple
from uuid import UUID

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.utils import timezone

from config.languages import said_later
from inspections.models import DeficiencyPhotograph, Item, Photograph
from inspections.pictures.reading import PictureUnreadable, written_anew
from inspections.services import site_refusal_messages as words
from inspections.services.facts import changing_facts
from inspections.services.given_ids import kept_as, save_as_given
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person

LARGEST = 25_000_000  # bytes


class RewrittenPicture(NamedTuple):
    """A picture written anew, and its suffix."""

    content: bytes
    suffix: str


def photograph_open_ahead(
    actor: Person, *, item: Item, upload: "UploadedFile[bytes]"
) -> RewrittenPicture:
    """Open a photograph of an item ahead: it takes a process and some seconds, and no lock.

    Raises ValidationError for a file that is too large, or not a picture that can be read.
    """
    require_role(actor, item.job.shop, *SITE_ROLES)
    return RewrittenPicture(*read_picture(upload, keep_location=item.job.shop.keeps_locations))


def photograph_add(
    actor: Person,
    *,
    item: Item,
    upload: "UploadedFile[bytes] | RewrittenPicture",
    photograph_id: UUID | None = None,
    fingerprint: str = "",
) -> Photograph:
    """Keep a photograph of an item as its facts stand now, or stood when it was taken.

    One that a phone took has the id that the phone gave it, and comes in once. Raises
    ValidationError for a file that is too large, is not a picture that can be read, or is
    another one under the same id.
    """
    require_role(actor, item.job.shop, *SITE_ROLES)
    if not isinstance(upload, RewrittenPicture):
        upload = photograph_open_ahead(actor, item=item, upload=upload)
    content, suffix = upload
    digest = hashlib.sha256(content).hexdigest()
    of_job = Photograph.objects.filter(item__job=item.job_id)
    if photograph_id:
        had = of_job.filter(id__in=[photograph_id, kept_as(item.job_id, photograph_id)]).first()
        if had is not None and (had.digest, had.item_id) != (digest, item.id):
            raise ValidationError(said_later(words.PHOTO_ID_TAKEN()))
        if had is not None:
            return had
    now = timezone.now()
    photograph = Photograph(
        **({"id": photograph_id} if photograph_id else {}),
        digest=digest,
        taken_by=actor,
        recorded_at=now,
    )
    with (
        picture_kept(photograph, content, suffix),
        changing_facts(
            actor, "photograph added", item.job_id, area_ids=[item.area_id], now=now
        ) as change,
    ):
        fresh = Item.objects.get(id=item.id)
        photograph.item, photograph.fingerprint = fresh, fingerprint or fresh.fingerprint
        save_as_given(photograph, item.job_id, of_job)
        change.detail = {"item": str(fresh), "digest": photograph.digest}
    return photograph


def read_picture(
    upload: "UploadedFile[bytes]", *, keep_location: bool = False
) -> tuple[bytes, str]:
    """An uploaded picture written anew, upright, and its suffix.

    What a camera hides in the file stays out: the place, the maker, thumbnails of what was cut
    away. With `keep_location` the place and the time stay.

    Raises ValidationError for a file that is too large, or not a picture that can be read.
    """
    size = upload.size or 0
    if size > LARGEST:
        large = words.PHOTO_LARGE(size=round(size / 1e6), most=LARGEST // 1_000_000)
        raise ValidationError(said_later(large))
    try:
        return written_anew(upload, keep_location=keep_location)
    except PictureUnreadable as refused:
        raise ValidationError(said_later(refused.text)) from None


@contextmanager
def picture_kept(
    picture: Photograph | DeficiencyPhotograph, content: bytes, suffix: str
) -> Iterator[None]:
    """The file, kept before anything is locked; when the block fails, it is taken away again.

    Its name is no other's, so that one of two that come at once never takes the other's away.
    """
    name = f"{picture.id}-{secrets.token_hex(4)}.{suffix}"
    picture.file.save(name, ContentFile(content), save=False)
    try:
        yield
    except BaseException:
        picture.file.delete(save=False)
        raise

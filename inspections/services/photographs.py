"""Writes of photographs."""

import hashlib
import secrets
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from uuid import UUID

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.utils import timezone
from PIL import Image, ImageOps, UnidentifiedImageError

from inspections.models import DeficiencyPhotograph, Item, Photograph
from inspections.services.facts import changing_facts
from inspections.services.given_ids import kept_as, save_as_given
from jobs.access import SITE_ROLES, require_role
from jobs.models import Person

LARGEST = 25_000_000  # bytes
KINDS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}


def photograph_add(
    actor: Person,
    *,
    item: Item,
    upload: UploadedFile,
    photograph_id: UUID | None = None,
    fingerprint: str = "",
) -> Photograph:
    """Keep a photograph of an item as its facts stand now, or stood when it was taken.

    One that a phone took has the id that the phone gave it, and comes in once. Raises
    ValidationError for a file that is too large, is not a picture that can be read, or is
    another one under the same id.
    """
    require_role(actor, item.job.shop, *SITE_ROLES)
    content, suffix = read_picture(upload, keep_location=item.job.shop.keeps_locations)
    digest = hashlib.sha256(content).hexdigest()
    of_job = Photograph.objects.filter(item__job=item.job_id)
    if photograph_id:
        had = of_job.filter(id__in=[photograph_id, kept_as(item.job_id, photograph_id)]).first()
        if had is not None and (had.digest, had.item_id) != (digest, item.id):
            raise ValidationError("Another photograph has come in under this one's id.")
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


BOMBS = (Image.DecompressionBombWarning, Image.DecompressionBombError)
"""What a picture of more pixels than any camera's raises, and one of twice as many."""


def read_picture(upload: UploadedFile, *, keep_location: bool = False) -> tuple[bytes, str]:
    """An uploaded picture written anew, upright, and its suffix.

    What a camera hides in the file stays out: the place, the maker, thumbnails of what was cut
    away. With `keep_location` the place and the time stay.

    Raises ValidationError for a file that is too large, or not a picture that can be read.
    """
    if upload.size > LARGEST:
        raise ValidationError(
            f"The photograph has {upload.size / 1e6:.0f} MB; send one of at most "
            f"{LARGEST // 1_000_000} MB."
        )
    return _anew(upload.read(), keep_location=keep_location)


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


QUALITY = 90  # of a JPEG written anew
GPS, TAKEN_AT, EXIF = 0x8825, 0x9003, 0x8769  # where EXIF keeps the place and the time


def _anew(content: bytes, *, keep_location: bool) -> tuple[bytes, str]:
    """The picture alone, as a file of its own kind."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(BytesIO(content), formats=list(KINDS)) as opened:
                kind, kept = opened.format, _kept(opened) if keep_location else Image.Exif()
                picture = ImageOps.exif_transpose(opened)
                out = BytesIO()
                given = {"quality": QUALITY} if kind == "JPEG" else {}
                picture.info.clear()
                picture.save(out, kind, exif=kept.tobytes(), **given)
    except (UnidentifiedImageError, OSError, SyntaxError, *BOMBS):
        raise ValidationError(
            "This is not a photograph that can be read; send a JPEG, PNG or WebP file."
        ) from None
    return out.getvalue(), KINDS[kind]


def _kept(picture: Image.Image) -> Image.Exif:
    """The place and the time of a picture, and nothing else of what it carries."""
    there, kept = picture.getexif(), Image.Exif()
    if place := there.get_ifd(GPS):
        kept.get_ifd(GPS).update(place)
    if moment := there.get_ifd(EXIF).get(TAKEN_AT):
        kept.get_ifd(EXIF)[TAKEN_AT] = moment
    return kept

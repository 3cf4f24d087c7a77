"""Writes of photographs."""

import hashlib
import warnings
from uuid import UUID

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.utils import timezone
from PIL import Image, UnidentifiedImageError

from inspections.models import DeficiencyPhotograph, Item, Photograph
from inspections.services.facts import changing_facts
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
    content, suffix = read_picture(upload)
    digest = hashlib.sha256(content).hexdigest()
    if photograph_id and (had := Photograph.objects.filter(id=photograph_id).first()):
        if (had.digest, had.item_id) != (digest, item.id):
            raise ValidationError("Another photograph has come in under this one's id.")
        return had
    now = timezone.now()
    with changing_facts(
        actor, "photograph added", item.job_id, area_ids=[item.area_id], now=now
    ) as change:
        fresh = Item.objects.get(id=item.id)
        photograph = Photograph(
            **({"id": photograph_id} if photograph_id else {}),
            item=fresh,
            digest=digest,
            fingerprint=fingerprint or fresh.fingerprint,
            taken_by=actor,
            recorded_at=now,
        )
        keep_picture(photograph, content, suffix)
        change.detail = {"item": str(fresh), "digest": photograph.digest}
        return photograph


BOMBS = (Image.DecompressionBombWarning, Image.DecompressionBombError)
"""What a picture of more pixels than any camera's raises, and one of twice as many."""


def read_picture(upload: UploadedFile) -> tuple[bytes, str]:
    """The bytes of an uploaded picture and its suffix.

    Raises ValidationError for a file that is too large, or not a picture that can be read.
    """
    if upload.size > LARGEST:
        raise ValidationError(
            f"The photograph has {upload.size / 1e6:.0f} MB; send one of at most "
            f"{LARGEST // 1_000_000} MB."
        )
    content = upload.read()
    return content, _kind(content)


def keep_picture(picture: Photograph | DeficiencyPhotograph, content: bytes, suffix: str) -> None:
    """Save the row with its file; when the row fails, the file is taken away again."""
    picture.file.save(f"{picture.id}.{suffix}", ContentFile(content), save=False)
    try:
        picture.save()
    except BaseException:
        picture.file.delete(save=False)
        raise


def _kind(content: bytes) -> str:
    """The suffix of a picture that can be read to its end."""
    from io import BytesIO

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(BytesIO(content), formats=list(KINDS)) as picture:
                kind = picture.format
                picture.load()
    except (UnidentifiedImageError, OSError, SyntaxError, *BOMBS):
        raise ValidationError(
            "This is not a photograph that can be read; send a JPEG, PNG or WebP file."
        ) from None
    return KINDS[kind]

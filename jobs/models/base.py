"""What every record shares: an identity that sorts by age."""

import uuid
from datetime import UTC, datetime

from django.db import models
from uuid_utils.compat import uuid7


def new_id() -> uuid.UUID:
    """A UUIDv7 (RFC 9562): unique anywhere, and in order of making."""
    return uuid7()


def moment_of_id(identity: uuid.UUID) -> datetime:
    """When an id was made: its first 48 bits are milliseconds since 1970. 1970 for any other."""
    if identity.version != 7:
        return datetime(1970, 1, 1, tzinfo=UTC)
    return datetime.fromtimestamp((identity.int >> 80) / 1000, UTC)


class Record(models.Model):
    """A row with a stable identity that may be shown to the world."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)

    class Meta:
        abstract = True

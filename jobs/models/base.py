"""What every record shares: an identity that sorts by age."""

import uuid

from django.db import models
from uuid_utils.compat import uuid7


def new_id() -> uuid.UUID:
    """A UUIDv7 (RFC 9562): unique anywhere, and in order of making."""
    return uuid7()


class Record(models.Model):
    """A row with a stable identity that may be shown to the world."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)

    class Meta:
        abstract = True

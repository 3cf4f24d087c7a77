"""Where a person is signed in, and the single-use way back in for whoever lost everything."""

from django.db import models

from .base import Record
from .fields import MomentField
from .shops import Person, Shop


class OpenSession(Record):
    """A browser in which somebody signed in, as the person is shown it.

    `allauth.usersessions` keeps the key of each session in its own table, which would open it to
    whoever reads the database; so this list is ours.
    """

    person = models.ForeignKey(Person, models.CASCADE, related_name="open_sessions")
    digest = models.CharField(max_length=40, unique=True)
    """Of the session's key, as `config.sessions` keeps it."""
    began_at = MomentField()
    seen_at = MomentField()
    """To the minute."""
    place = models.CharField(max_length=45, blank=True)
    """The address of the network that it was last used from."""
    browser = models.CharField(max_length=200, blank=True)
    """What the browser says of itself."""

    class Meta:
        ordering = ["began_at", "id"]

    def __str__(self) -> str:
        return f"session of {self.person}"


class WayBack(Record):
    """A link by which somebody who lost phone or password comes in once. A digest alone is kept."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="ways_back")
    person = models.ForeignKey(Person, models.CASCADE, related_name="ways_back")
    digest = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = MomentField()
    expires_at = MomentField()
    used_at = MomentField(null=True, blank=True)

    class Meta:
        ordering = ["made_at", "id"]
        verbose_name_plural = "ways back"

    def __str__(self) -> str:
        return f"way back of {self.person}"

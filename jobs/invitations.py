"""What an invitation opens, read anew each time."""

from zoneinfo import ZoneInfo

from django.utils import timezone

from config.messages.message import Text
from config.messages.saying import said
from jobs import invitation_messages as words
from jobs.models import Invitation
from jobs.moments import at_place
from jobs.secrets import digest_of


class InvitationGone(Exception):
    """The invitation was good once and no longer is; the text says why and whom to ask."""

    def __init__(self, text: Text) -> None:
        super().__init__(said(text))
        self.text = text


def gone_because(invitation: Invitation) -> Text | None:
    """Why it opens nothing any more; None while it is good."""
    if invitation.used_at is not None:
        return words.USED()
    if invitation.withdrawn_at is not None:
        return words.WITHDRAWN(shop=str(invitation.shop))
    if invitation.expires_at <= timezone.now():
        zone = ZoneInfo(invitation.shop.time_zone)
        day = at_place(invitation.expires_at, zone).date()
        return words.EXPIRED(day=day, shop=str(invitation.shop))
    return None


def invitation_open(secret: str) -> Invitation:
    """The invitation of that secret.

    Raises Invitation.DoesNotExist when there is none, InvitationGone when it is no longer good.
    """
    found = Invitation.objects.select_related("shop", "builder").get(digest=digest_of(secret))
    if because := gone_because(found):
        raise InvitationGone(because)
    return found

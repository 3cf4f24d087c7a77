"""What an invitation opens, read anew each time."""

from zoneinfo import ZoneInfo

from django.utils import timezone

from jobs.models import Invitation
from jobs.moments import at_place
from jobs.secrets import digest_of


class InvitationGone(Exception):
    """The invitation was good once and no longer is; the text says why and whom to ask."""


def gone_because(invitation: Invitation) -> str:
    """Why it opens nothing any more; empty while it is good."""
    if invitation.used_at is not None:
        return "This invitation was used. Sign in with the name and password that were chosen."
    if invitation.withdrawn_at is not None:
        return f"{invitation.shop} has withdrawn this invitation. Ask them for a new one."
    if invitation.expires_at <= timezone.now():
        zone = ZoneInfo(invitation.shop.time_zone)
        day = at_place(invitation.expires_at, zone).date().isoformat()
        return f"This invitation was good until {day}. Ask {invitation.shop} for a new one."
    return ""


def invitation_open(secret: str) -> Invitation:
    """The invitation of that secret.

    Raises Invitation.DoesNotExist when there is none, InvitationGone when it is no longer good.
    """
    found = Invitation.objects.select_related("shop", "builder").get(digest=digest_of(secret))
    if because := gone_because(found):
        raise InvitationGone(because)
    return found

"""What ends when somebody leaves a shop, in the transaction that ends the membership.

Here what people come in by; the floors above end their own at the signal. A person who works with
another shop yet keeps what is not of one shop: tokens and open sessions, which open nothing of the
shop that they left.
"""

from datetime import datetime
from uuid import UUID

from django.utils import timezone

from config.sessions import SessionStore
from jobs.models import ApiToken, Crew, Invitation, Membership, Person
from jobs.signals import person_left


def end_with_membership(gone: Membership) -> None:
    """End what a person had by a membership that was just ended."""
    # Locked, so that of two shops that let the same person go at once the second sees the first.
    person = Person.objects.select_for_update().get(id=gone.person_id)
    elsewhere = Membership.objects.filter(person=person).exists()
    now = timezone.now()
    _end_invitations(gone, now)
    Crew.objects.filter(shop=gone.shop_id, lead=person).update(lead=None)
    if not elsewhere:
        ApiToken.objects.filter(person=person, revoked_at=None).update(revoked_at=now)
        sign_out_everywhere(person.id)
    person_left.send(sender=Membership, person=person, shop=gone.shop, at=now, elsewhere=elsewhere)


def _end_invitations(gone: Membership, now: datetime) -> None:
    """Those that the person made: whoever made one has its address, and would come in by it."""
    Invitation.objects.filter(
        shop=gone.shop_id, made_by=gone.person_id, used_at=None, withdrawn_at=None
    ).update(withdrawn_at=now)


def sign_out_everywhere(person_id: UUID) -> None:
    """Sign a person out everywhere. A session tells whose it is to whoever opens it alone."""
    store = SessionStore()
    sessions = SessionStore.get_model_class().objects.filter(expire_date__gt=timezone.now())
    theirs = []
    for each in sessions.iterator():
        if store.decode(each.session_data).get("_auth_user_id") == str(person_id):
            theirs.append(each.pk)
    SessionStore.get_model_class().objects.filter(pk__in=theirs).delete()

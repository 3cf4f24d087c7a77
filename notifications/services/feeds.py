"""Writes of calendar feeds."""

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from jobs.access import SITE_ROLES, NotAllowed, role_in
from jobs.models import Builder, Job, Person, Role, Shop
from jobs.selectors import jobs_visible_to
from notifications.messages import refusals
from notifications.models import Feed


@transaction.atomic
def feed_open(
    actor: Person,
    *,
    shop: Shop,
    job: Job | None = None,
    builder: Builder | None = None,
    lead: Person | None = None,
) -> Feed:
    """A calendar of one's own inspections, or of a job, a builder's houses, a crew lead's jobs."""
    role = role_in(actor, shop)
    if role is None or (role == Role.BUILDER and (builder or lead)):
        raise NotAllowed(said_later(refusals.FEED_STRANGER(shop=shop.name)))
    if job is not None and not jobs_visible_to(actor).filter(id=job.id).exists():
        raise NotAllowed(said_later(refusals.FEED_JOB()))
    _refuse_strangers(shop, builder, lead)
    return Feed.objects.create(
        shop=shop,
        person=actor,
        scope=_scope(job, builder, lead),
        job=job,
        builder=builder,
        lead=lead,
        made_at=timezone.now(),
    )


def _refuse_strangers(shop: Shop, builder: Builder | None, lead: Person | None) -> None:
    """Raise ValidationError for a builder or a crew lead who is not the shop's."""
    if builder is not None and builder.shop_id != shop.id:
        raise ValidationError(said_later(refusals.FEED_BUILDER()))
    if lead is not None and role_in(lead, shop) not in SITE_ROLES:
        raise ValidationError(said_later(refusals.FEED_LEAD()))


def _scope(job: Job | None, builder: Builder | None, lead: Person | None) -> Feed.Scope:
    """What a calendar is of. Raises ValidationError for more than one thing."""
    scopes = []
    if job is not None:
        scopes.append(Feed.Scope.JOB)
    if builder is not None:
        scopes.append(Feed.Scope.BUILDER)
    if lead is not None:
        scopes.append(Feed.Scope.CREW)
    if len(scopes) > 1:
        raise ValidationError(said_later(refusals.FEED_ONE()))
    if scopes:
        return scopes[0]
    return Feed.Scope.PERSON


@transaction.atomic
def feed_withdraw(actor: Person, *, feed: Feed) -> None:
    """The link opens nothing from now on."""
    if feed.person_id != actor.id:
        raise NotAllowed(said_later(refusals.FEED_OWN()))
    Feed.objects.filter(id=feed.id, withdrawn_at__isnull=True).update(withdrawn_at=timezone.now())

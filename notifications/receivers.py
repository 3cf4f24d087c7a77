"""What follows a settling, in the same transaction: the notices that are due."""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from django.db.models.signals import post_save
from django.dispatch import receiver

from inspections.conclusions.job_facts import JobRows
from jobs.models import DayList, Job, Person, Plan, Shop
from jobs.signals import job_set_aside, jobs_settled, person_left, rules_changed, shop_audited
from notifications.models import NoticeRules
from notifications.services.leaving import person_leaves
from notifications.services.lists import shops_with_lists_ahead
from notifications.services.notices import notices_of, shop_due


@receiver(post_save, sender=Shop, dispatch_uid="a shop has notice rules")
def give_rules(*, instance: Shop, created: bool, **_: object) -> None:
    """A new shop tells at the hours that most do."""
    if created:
        NoticeRules.objects.create(shop=instance)


@receiver(jobs_settled, dispatch_uid="notices follow settling")
def give_notices(*, ground: JobRows, now: datetime, **_: object) -> dict[UUID, datetime | None]:
    """Give the notices that became due; answer when the next will."""
    shops = set()
    for job in ground.jobs.values():
        shops.add(job.shop_id)
    for shop_id in sorted(shops_with_lists_ahead(shops, now.date())):
        shop_due(shop_id)  # what changed may amend a list that was sent
    by_job_id: dict[UUID, datetime | None] = {}
    for job_id, followed in notices_of(ground, now).items():
        by_job_id[job_id] = followed.next_at
    return by_job_id


@receiver(rules_changed, dispatch_uid="who is in a shop is told what is of the shop")
def follow_people(*, shop_id: UUID | None = None, **_: object) -> None:
    """Somebody came or left: what is told of the shop itself is drawn anew."""
    if shop_id is not None:
        shop_due(shop_id)


@receiver(person_left, dispatch_uid="whoever left is told nothing more")
def end_telling(*, person: Person, shop: Shop, at: datetime, **_: object) -> None:
    """Their queue, addresses and calendars end with the membership."""
    person_leaves(person, shop, at)


@receiver(shop_audited, dispatch_uid="what an audit found is told")
def tell_audit(*, shop_id: UUID, **_: object) -> None:
    """The office is told of what an audit found, or that it holds no more."""
    shop_due(shop_id)


@receiver(job_set_aside, dispatch_uid="the office is told of jobs that cannot be settled")
def tell_shops(*, job_ids: Sequence[UUID], **_: object) -> None:
    """Jobs were set aside, or taken back: their shops' offices are told by the next sweep."""
    shops = Job.objects.filter(id__in=job_ids).order_by("shop_id").values_list("shop_id", flat=True)
    for shop_id in shops.distinct():
        shop_due(shop_id)


@receiver(post_save, sender=Plan, dispatch_uid="lists follow the plan that was told")
def follow_plan(*, instance: Plan, **_: object) -> None:
    """A plan was told: the lists are drawn from it."""
    if instance.told_at is not None:
        shop_due(instance.shop_id)


@receiver(post_save, sender=DayList, dispatch_uid="a list that was sent is told")
def follow_list(*, instance: DayList, **_: object) -> None:
    """A list was sent, by the clock or by hand: its crew is told."""
    shop_due(instance.shop_id)

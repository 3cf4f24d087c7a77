"""What follows a settling, in the same transaction: the notices that are due."""

from datetime import datetime
from uuid import UUID

from django.db.models.signals import post_save
from django.dispatch import receiver

from jobs.models import DayList, Job, Plan, Shop
from jobs.signals import job_settled
from notifications.models import NoticeRules
from notifications.services import notices_follow, shop_due
from notifications.services.lists import has_lists_ahead


@receiver(post_save, sender=Shop, dispatch_uid="a shop has notice rules")
def give_rules(*, instance: Shop, created: bool, **_: object) -> None:
    """A new shop tells at the hours that most do."""
    if created:
        NoticeRules.objects.create(shop=instance)


@receiver(job_settled, dispatch_uid="notices follow settling")
def give_notices(*, job_id: UUID, now: datetime, **_: object) -> datetime | None:
    """Give the notices that became due; answer when the next will."""
    shop_id = Job.objects.values_list("shop", flat=True).get(id=job_id)
    if has_lists_ahead(shop_id, now.date()).exists():
        shop_due(shop_id)  # what changed may amend a list that was sent
    return notices_follow(job_id, now).next_at


@receiver(post_save, sender=Plan, dispatch_uid="lists follow the plan that was told")
def follow_plan(*, instance: Plan, **_: object) -> None:
    """A plan was told: the lists are drawn from it."""
    if instance.told_at is not None:
        shop_due(instance.shop_id)


@receiver(post_save, sender=DayList, dispatch_uid="a list that was sent is told")
def follow_list(*, instance: DayList, **_: object) -> None:
    """A list was sent, by the clock or by hand: its crew is told."""
    shop_due(instance.shop_id)

"""What follows a settling, in the same transaction: the notices that are due."""

from datetime import datetime
from uuid import UUID

from django.db.models.signals import post_save
from django.dispatch import receiver

from jobs.models import Shop
from jobs.signals import job_settled
from notifications.models import NoticeRules
from notifications.services import notices_follow


@receiver(post_save, sender=Shop, dispatch_uid="a shop has notice rules")
def give_rules(*, instance: Shop, created: bool, **_: object) -> None:
    """A new shop tells at the hours that most do."""
    if created:
        NoticeRules.objects.create(shop=instance)


@receiver(job_settled, dispatch_uid="notices follow settling")
def give_notices(*, job_id: UUID, now: datetime, **_: object) -> datetime | None:
    """Give the notices that became due; answer when the next will."""
    return notices_follow(job_id, now).next_at

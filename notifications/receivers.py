"""What follows a settling: the notices that are due, in the same transaction."""

from uuid import UUID

from django.dispatch import receiver

from jobs.signals import job_settled
from notifications.services import notices_follow


@receiver(job_settled, dispatch_uid="notices follow settling")
def give_notices(*, job_id: UUID, **_: object) -> None:
    """Give the notices that became due."""
    notices_follow(job_id)

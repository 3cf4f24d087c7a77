"""Celery tasks, as thin as paper: they call services by id and decide nothing."""

import logging
from uuid import UUID

from celery import shared_task
from django.dispatch import receiver
from kombu.exceptions import OperationalError

from inspections.days.services import plan_make, plans_due
from inspections.services.settling import job_settle, jobs_due
from jobs.signals import facts_changed, plan_asked

DOORBELL = "settle on facts_changed"
log = logging.getLogger(__name__)


@shared_task(name="inspections.settle_job")
def settle_job(job_id: str) -> None:
    """Settle one job."""
    job_settle(UUID(job_id))


@shared_task(name="inspections.settle_due")
def settle_due() -> int:
    """The sweep: settle every job that is due, whether or not a message said so."""
    due = jobs_due()
    for job_id in due:
        job_settle(job_id)
    return len(due)


@receiver(facts_changed, dispatch_uid=DOORBELL)
def queue_settling(*, job_id: UUID, **_: object) -> None:
    """Answer the doorbell. With the broker down the sweep finds the job within a beat."""
    try:
        settle_job.delay(str(job_id))
    except OperationalError as error:
        log.warning("job %s waits for the sweep: %s", job_id, error)


@shared_task(name="inspections.make_plan")
def make_plan(plan_id: str) -> None:
    """Work out one plan; a request never waits for it."""
    plan_make(UUID(plan_id))


@shared_task(name="inspections.make_plans_due")
def make_plans_due() -> int:
    """The sweep: work out every plan whose message was lost or whose worker died."""
    due = plans_due()
    for plan_id in due:
        plan_make(plan_id)
    return len(due)


@receiver(plan_asked, dispatch_uid="make the plan that is asked for")
def queue_planning(*, plan_id: UUID, **_: object) -> None:
    """Queue the making of a plan. With the broker down the sweep finds it."""
    try:
        make_plan.delay(str(plan_id))
    except OperationalError as error:
        log.warning("plan %s waits for the sweep: %s", plan_id, error)

"""Celery tasks, as thin as paper: they call services by id and decide nothing."""

import logging
from uuid import UUID

from celery import shared_task
from django.dispatch import receiver
from kombu.exceptions import OperationalError

from config.sweeps import each_by_itself
from inspections.days.services import plan_make, plans_due
from inspections.services.packs import pack_make, packs_due
from inspections.services.rechecks import answers_carry, jobs_by_older_rules
from inspections.services.settling import due_settle, settled_or_set_aside
from jobs.signals import facts_changed, pack_asked, plan_asked

DOORBELL = "settle on facts_changed"
log = logging.getLogger(__name__)


@shared_task(name="inspections.settle_job")
def settle_job(job_id: str) -> None:
    """Settle one job, or set it aside."""
    settled_or_set_aside(UUID(job_id))


@shared_task(name="inspections.settle_due")
def settle_due() -> int:
    """The sweep: settle every job that is due, whether or not a message said so."""
    return due_settle()


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
    return each_by_itself(plans_due(), plan_make, "plan")


@shared_task(name="inspections.carry_answers")
def carry_answers() -> int:
    """The sweep after an upgrade: carry answers over to newer rules that say the same."""
    return each_by_itself(jobs_by_older_rules(), answers_carry, "job")


@shared_task(name="inspections.make_pack")
def make_pack(pack_id: str) -> None:
    """Make one pack of sheets."""
    pack_make(UUID(pack_id))


@shared_task(name="inspections.make_packs_due")
def make_packs_due() -> int:
    """The sweep: make every pack whose message was lost or whose worker died."""
    return each_by_itself(packs_due(), pack_make, "pack")


@receiver(pack_asked, dispatch_uid="make the pack that is asked for")
def queue_packing(*, pack_id: UUID, **_: object) -> None:
    """Queue the making of a pack. With the broker down the sweep finds it."""
    try:
        make_pack.delay(str(pack_id))
    except OperationalError as error:
        log.warning("pack %s waits for the sweep: %s", pack_id, error)


@receiver(plan_asked, dispatch_uid="make the plan that is asked for")
def queue_planning(*, plan_id: UUID, **_: object) -> None:
    """Queue the making of a plan. With the broker down the sweep finds it."""
    try:
        make_plan.delay(str(plan_id))
    except OperationalError as error:
        log.warning("plan %s waits for the sweep: %s", plan_id, error)

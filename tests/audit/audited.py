"""The auditor as other tests call it at their ends: over everything that they left."""

from collections.abc import Sequence
from uuid import UUID

from audit.auditor import audit_jobs
from audit.crossings import crossings_of_shop
from audit.found import Found, Sort
from jobs.models import Job, Shop
from tests.stranger import NUMBER


def audited(job_ids: Sequence[UUID] | None = None) -> list[str]:
    """Every difference in these jobs, or in all of them and between the shops, a line each.

    The stranger shop's jobs are left out of all: nothing of them is due at any time, which is false
    by the clock of a test that is before their facts.
    """
    found: list[Found] = []
    if job_ids is None:
        every = Job.objects.order_by("shop", "id").values_list("id", flat=True)
        job_ids = [job_id for job_id in every if NUMBER not in job_id.hex]
        for shop_id in Shop.objects.values_list("id", flat=True):
            found += crossings_of_shop(shop_id)
    found += audit_jobs(job_ids)
    return [line.line() for line in found if line.sort is Sort.DIFFERENCE]

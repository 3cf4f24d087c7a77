"""Ids that a phone gives to what it sends, so that it comes in once. They are a job's own.

What another job holds under the same id changes nothing and shows in no answer: the row is then
kept under an id made of the job's and the one that was given.
"""

from typing import Any
from uuid import UUID, uuid5

from django.db import IntegrityError, models, transaction


def kept_as(job_id: UUID, given: UUID) -> UUID:
    """Under which id a row is kept when another job has the one that was given."""
    return uuid5(job_id, given.hex)


def save_as_given(row: models.Model, job_id: UUID, of_job: models.QuerySet[Any]) -> None:
    """Insert a row under the id that it was given, or under the job's own for it.

    `of_job` are the rows that the job has. Raises IntegrityError when one of them came in under
    that id meanwhile, or the row cannot be inserted at all.
    """
    try:
        with transaction.atomic():
            row.save(force_insert=True)
    except IntegrityError:
        if of_job.filter(pk=row.pk).exists():
            raise
        row.pk = kept_as(job_id, row.pk)
        row.save(force_insert=True)

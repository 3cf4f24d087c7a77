"""The auditor's Celery task: a slice, and the message that asks for the next."""

import logging

from celery import shared_task
from kombu.exceptions import OperationalError

from audit.nightly import audit_slice

log = logging.getLogger(__name__)


@shared_task(name="audit.go_on")
def go_on(lease: str = "") -> int:
    """Audit for a while, and ask for more while there is more."""
    done = audit_slice(lease)
    if done.lease:
        try:
            go_on.apply_async((done.lease,), queue="bulk")
        except OperationalError as error:
            log.warning("the audit waits for the beat: %s", error)
    return done.jobs

"""Read a report of a message that came back, as a mail server pipes it in."""

import sys
from email import message_from_bytes, policy

from django.core.management.base import BaseCommand

from notifications.bounces import bounces
from notifications.services.sending import bounced


class Command(BaseCommand):
    """Pause the addresses that a report on standard input says are no good."""

    help = "Read a delivery status report (RFC 3464) from standard input."

    def handle(self, *args: str, **options: str) -> None:
        report = message_from_bytes(sys.stdin.buffer.read(), policy=policy.default)
        for found in bounces(report):
            address = bounced(delivery_id=found.delivery_id, because=found.because)
            self.stdout.write(f"paused {address}" if address else "not one of our messages")

"""What is written to somebody about their account; it goes at once, past wishes and quiet hours."""

from email.utils import parseaddr

from django.conf import settings
from django.core.mail import EmailMessage

from jobs.models import new_id


def letter(to: str, subject: str, text: str) -> EmailMessage:
    """A message of plain text, with an id of ours: a library's would tell the machine's name."""
    domain = parseaddr(settings.DEFAULT_FROM_EMAIL)[1].rpartition("@")[2] or "localhost"
    headers = {"Message-ID": f"<{new_id()}@{domain}>", "Auto-Submitted": "auto-generated"}
    return EmailMessage(subject, text, to=[to], headers=headers)

"""E-mail without a mail server: each message is a file, named by its Message-ID.

A message that is sent a second time takes the place of the first, so nothing is there twice.
"""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage
from django.core.mail.backends.base import BaseEmailBackend

from config.atomic_files import whole_file
from config.file_modes import private_folder


def file_of(message_id: str) -> Path:
    """Where a message is kept."""
    letters = []
    for c in message_id.strip("<>"):
        letters.append(c if c.isalnum() or c in "-." else "_")
    name = "".join(letters)
    return Path(settings.EMAIL_FILE_PATH) / f"{name}.eml"


class FiledEmailBackend(BaseEmailBackend):
    """Writes messages under EMAIL_FILE_PATH, each whole or not at all."""

    def send_messages(self, email_messages: Sequence[EmailMessage]) -> int:
        """Write them; how many there were."""
        for message in email_messages:
            made: Any = message.message()  # of a kind of Django's own
            path = file_of(made["Message-ID"])
            private_folder(path.parent)
            with whole_file(path) as out:
                out.write(made.as_bytes(linesep="\r\n"))
        return len(email_messages)

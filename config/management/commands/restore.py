"""Put a backup into an empty place."""

from pathlib import Path
from typing import Any

from django.apps import apps
from django.conf import settings
from django.core.exceptions import SuspiciousFileOperation
from django.core.management.base import BaseCommand, CommandError, CommandParser

from config.backup import BackupFault, backup_restore
from config.backup_trust import MEANS


class Command(BaseCommand):
    """Exit 1 when nothing was restored."""

    help = "Restore a backup into an empty, migrated database; a broken file is refused untouched."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="the backup")
        parser.add_argument(
            "--unsealed",
            action="store_true",
            help="accept an unsealed backup although a key is set",
        )

    def handle(self, *args: str, **options: Any) -> None:
        key = settings.ENVIRONMENT.studbay_backup_key
        try:
            told = backup_restore(Path(options["file"]), key, unsealed=options["unsealed"])
        except (BackupFault, OSError, SuspiciousFileOperation) as refused:
            raise CommandError(f"Nothing was restored. {refused}") from None
        self.stdout.write(f"{told.records:,} records, {told.files:,} files")
        self.stdout.write(f"digest of the records {told.digest}")
        if told.keys:
            self.stdout.write(
                f"keys of sealed secrets that came with it: {told.keys}; `manage.py reseal` moves "
                "everything to the key of this site"
            )
        if not told.sealed:
            self._warn()

    def _warn(self) -> None:
        """What it means that nobody sealed it, and whom to look at."""
        self.stderr.write(MEANS)
        self.stderr.write(
            "Secrets of webhooks, gateways and calendars open only with the keys of the site that "
            "made the backup; without those keys, enter the secrets again."
        )
        members = apps.get_model("jobs", "Membership").objects.filter(role="office")
        for member in members.select_related("person", "shop").order_by("shop_id", "id"):
            self.stderr.write(f"In the office of {member.shop}: {member.person.username}")

"""Put a backup into an empty place."""

from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from config.backup import BackupFault, backup_restore


class Command(BaseCommand):
    """Exit 1 when nothing was restored."""

    help = "Restore a backup into an empty, migrated database; a broken file is refused untouched."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="the backup")

    def handle(self, *args: str, **options: str) -> None:
        key = settings.ENVIRONMENT.studbay_backup_key
        try:
            told = backup_restore(Path(options["file"]), key)
        except (BackupFault, OSError) as refused:
            raise CommandError(f"Nothing was restored. {refused}") from None
        self.stdout.write(f"{told.records:,} records, {told.files:,} files")
        self.stdout.write(f"digest of the records {told.digest}")

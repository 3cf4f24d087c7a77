"""Write everything that is recorded, and every photograph, into one file."""

from pathlib import Path

from cryptography.fernet import Fernet
from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from config.backup import BackupFault, backup_write


class Command(BaseCommand):
    """Exit 1 when nothing was written."""

    help = "Write a backup: records and photographs of one moment, sealed when a key is set."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", nargs="?", help="where to write it")
        parser.add_argument("--new-key", action="store_true", help="only print a key")

    def handle(self, *args: str, **options: str) -> None:
        if options["new_key"]:
            self.stdout.write(Fernet.generate_key().decode())
            return
        if not options["file"]:
            raise CommandError("name the file to write")
        key = settings.ENVIRONMENT.studbay_backup_key
        try:
            told = backup_write(Path(options["file"]), key)
        except (BackupFault, OSError) as refused:
            raise CommandError(str(refused)) from None
        sealed = "not sealed; set STUDBAY_BACKUP_KEY to seal it"
        if key:
            sealed = "sealed"
        self.stdout.write(f"{told.records:,} records, {told.files:,} files, {sealed}")
        self.stdout.write(f"digest of the records {told.digest}")

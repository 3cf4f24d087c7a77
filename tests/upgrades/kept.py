"""One database made and kept, with what it shows at that moment."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.utils import timezone

from config.celery import app
from notifications.signals import outbox_filled
from notifications.tasks import ring
from tests.upgrades import folder, phone
from tests.upgrades.faces import of_jobs
from tests.upgrades.faces_of_shops import of_shops, opened
from tests.upgrades.from_before import audited
from tests.upgrades.scene.everything import everything
from tests.upgrades.scene.fixed import Clock
from tests.upgrades.upgraded import follow, settle, tables


def quiet() -> None:
    """Conclusions are drawn at once; no message leaves but by the hand that sends it."""
    app.conf.task_always_eager = True
    assert outbox_filled.disconnect(ring, dispatch_uid="send what may go at once")


def kept(clock: Clock, var: Path) -> dict[str, Any]:
    """Make everything, keep it, and only then let the phone send."""
    quiet()
    call_command("migrate", verbosity=0)
    scene = everything(clock)
    settle()
    follow()
    manifest = {
        "made at": timezone.now().isoformat(),
        "jobs": of_jobs(),
        "shops": of_shops(),
        "rows": counts(),
        "audit": audited(),
        "secrets": scene.secrets,
    }
    database = _database(var)
    files = var / "files.zip"
    names = folder.pack_files(var, files)
    manifest["opened"] = opened(scene.secrets)
    sent = scene.queue | {"became": phone.send(scene.queue)}
    return {
        "manifest": manifest,
        "phone": sent,
        "database": str(database),
        "files": str(files),
        "names of files": names,
    }


def counts() -> dict[str, int]:
    """How many rows each table of ours has."""
    found = {}
    for name, rows in tables().items():
        found[name] = len(rows)
    return found


def _database(var: Path) -> Path:
    """A copy of what the database holds now, in a file."""
    path = var / "database"
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("VACUUM INTO %s", [str(path)])
    else:
        path.write_bytes(folder.dump(settings.ENVIRONMENT.database_url))
    return path

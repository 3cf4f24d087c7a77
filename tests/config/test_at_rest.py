"""What is kept on the machine is its owner's alone, whoever starts it and with whatever umask."""

import os
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from config.file_modes import private_folder, tighten

ROOT = Path(__file__).resolve().parents[2]
FILLED = """
import io
from pathlib import Path
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command
from PIL import Image
from inspections.models import Item
from inspections.services.photographs import photograph_add
from jobs.models import Membership
from notifications.models import Lane
from notifications.services.notices import shop_follow, shops_due
from notifications.services.sending import deliver
from notifications.tasks import tick

call_command("migrate", verbosity=0)
call_command("demo", stdout=io.StringIO())
for shop in shops_due():
    shop_follow(shop)
for lane in Lane:
    deliver(lane, "email")
item = Item.objects.filter(current=True).select_related("job__shop").first()
lead = Membership.objects.filter(shop=item.job.shop, role="crew_lead").first().person
picture = io.BytesIO()
Image.new("RGB", (40, 30)).save(picture, "JPEG")
upload = SimpleUploadedFile("a.jpg", picture.getvalue(), "image/jpeg")
photograph_add(lead, item=item, upload=upload)
call_command("collectstatic", interactive=False, verbosity=0)
call_command("backup", str(settings.VAR / "of-tests.backup"), stdout=io.StringIO())
"""


def run(var: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """A command of an installation of its own, as a shell with the usual umask starts it."""
    surroundings = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith("STUDBAY_") and name not in ("DATABASE_URL", "REDIS_URL")
    }
    return subprocess.run(
        ["/bin/sh", "-c", 'umask 022; exec "$@"', "sh", sys.executable, *command],
        cwd=ROOT,
        env=surroundings | {"STUDBAY_VAR": str(var)},
        capture_output=True,
        text=True,
        check=False,
    )


def open_to_others(folder: Path) -> list[str]:
    """Everything in a folder, and the folder, that others may do anything with."""
    found = []
    for path in (folder, *folder.rglob("*")):
        mode = stat.S_IMODE(path.lstat().st_mode)
        if mode & 0o077 and not path.is_symlink():
            found.append(f"{path.relative_to(folder)} {oct(mode)}")
    return found


@pytest.mark.any_database
def test_nothing_that_a_filled_shop_keeps_can_be_read_by_others(tmp_path) -> None:
    var = tmp_path / "made" / "by" / "it"
    done = run(var, "manage.py", "shell", "-v", "0", "-c", FILLED)
    assert done.returncode == 0, done.stderr[-3000:]
    kept = {str(path.relative_to(var)) for path in var.rglob("*") if path.is_file()}
    for kind in ("studbay.sqlite3", "of-tests.backup", "secret_key"):
        assert kind in kept
    for folder in ("messages", "kept", "static", "broker"):
        assert any(name.startswith(f"{folder}/") for name in kept), f"nothing in {folder}"
    assert open_to_others(var) == []


@pytest.mark.any_database
@pytest.mark.parametrize("started", ["config.wsgi", "config.celery"])
def test_whatever_starts_a_process_it_makes_nothing_open(started, tmp_path) -> None:
    """A site by a WSGI server, a worker by Celery's own command: no manage.py between."""
    code = (
        f"import {started}, django; django.setup()\n"
        "from django.conf import settings\n"
        "(settings.VAR / 'anything').write_text('x'); (settings.VAR / 'a folder').mkdir()\n"
        "from django.db import connection; connection.cursor().execute('CREATE TABLE a (b int)')"
    )
    done = run(tmp_path / "var", "-c", code)
    assert done.returncode == 0, done.stderr[-3000:]
    assert (tmp_path / "var" / "studbay.sqlite3").exists()
    assert open_to_others(tmp_path / "var") == []


def opened(folder: Path) -> Path:
    """A folder as a version before left it: everybody may read."""
    inner = folder / "messages"
    inner.mkdir(parents=True)
    (inner / "one.eml").write_text("x")
    for path in (folder, inner):
        path.chmod(0o755)
    (inner / "one.eml").chmod(0o644)
    return folder


def test_what_is_there_already_is_tightened(tmp_path) -> None:
    var = opened(tmp_path / "var")
    outside = opened(tmp_path / "outside")
    (var / "link").symlink_to(outside)
    tighten(var)
    assert open_to_others(var) == []
    assert (outside / "messages" / "one.eml").stat().st_mode & 0o077, "a link leads out of it"


@pytest.mark.any_database
def test_a_site_tightens_at_its_start(tmp_path) -> None:
    var = opened(tmp_path / "var")
    assert run(var, "-c", "import config.wsgi").returncode == 0
    assert open_to_others(var) == []


def test_a_folder_that_everybody_shares_is_left_as_it_is() -> None:
    shared = Path(tempfile.mkdtemp())
    shared.chmod(0o1777)
    private_folder(shared)
    assert stat.S_IMODE(shared.stat().st_mode) == 0o1777
    shared.rmdir()

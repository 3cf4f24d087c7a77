"""Backup and restore: the same place again, or a refusal that touched nothing."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from cryptography.fernet import Fernet
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from config.backup import BackupFault, backup_restore, backup_write
from inspections.services.photographs import photograph_add
from tests.inspections.test_photographs import picture
from tests.jobs.test_factors import turned_on
from tests.lived import lived_in

ROOT = Path(__file__).resolve().parents[2]
pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.alone]
KEY = "c3R1ZGJheS1zdHVkYmF5LXN0dWRiYXktc3R1ZGJheSE="  # of tests alone


@pytest.fixture
def lived(shop, house_bytes):
    found = lived_in(shop, house_bytes)
    item = found["job"].items.first()
    upload = SimpleUploadedFile("a.jpg", picture(), "image/jpeg")
    turned_on(shop.lead, timezone.now())  # kept in the library's table
    return found | {"photograph": photograph_add(shop.lead, item=item, upload=upload)}


@pytest.fixture(scope="module")
def migrated(tmp_path_factory) -> Path:
    """The folder of an installation that holds nothing yet."""
    folder: Path = tmp_path_factory.mktemp("place") / "elsewhere"
    folder.mkdir()
    assert other_place(folder, "migrate", "--verbosity", "0").returncode == 0
    return folder


def other_place(
    folder: Path, *command: str, key: str = "", **more: str
) -> subprocess.CompletedProcess[str]:
    """A command of an installation of its own, on SQLite, with more settings."""
    surroundings = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith("STUDBAY_") and name not in ("DATABASE_URL", "REDIS_URL")
    }
    surroundings |= {"STUDBAY_VAR": str(folder), "STUDBAY_BACKUP_KEY": key, **more}
    return subprocess.run(
        [sys.executable, "manage.py", *command],
        cwd=ROOT,
        env=surroundings,
        capture_output=True,
        text=True,
        timeout=400,
        check=False,
    )


@pytest.mark.parametrize("key", ["", KEY], ids=["plain", "sealed"])
def test_what_is_restored_elsewhere_is_the_same(lived, tmp_path, migrated, key) -> None:
    file = tmp_path / "studbay.backup"
    told = backup_write(file, key)
    assert told.files == 1
    folder = tmp_path / "elsewhere"
    shutil.copytree(migrated, folder)
    restored = other_place(folder, "restore", str(file), key=key)
    assert restored.returncode == 0, restored.stderr
    assert told.digest in restored.stdout
    again = other_place(folder, "backup", str(tmp_path / "again.backup"), key=key)
    assert told.digest in again.stdout
    photograph = folder / "kept" / lived["photograph"].file.name
    assert photograph.read_bytes() == lived["photograph"].file.read()
    verified = other_place(folder, "verify_record")
    assert verified.returncode == 0, verified.stdout + verified.stderr
    twice = other_place(folder, "restore", str(file), key=key)
    assert twice.returncode == 1
    assert "recorded here already" in twice.stderr


def test_a_sealed_one_says_nothing_without_its_key(lived, shop, tmp_path) -> None:
    file = tmp_path / "b"
    backup_write(file, KEY)
    assert shop.shop.name.encode() not in file.read_bytes()
    with pytest.raises(BackupFault, match="is sealed"):
        backup_restore(file)
    with pytest.raises(BackupFault, match="the key is another"):
        backup_restore(file, Fernet.generate_key().decode())
    with pytest.raises(BackupFault, match="32 bytes"):
        backup_write(tmp_path / "c", "short")


@pytest.mark.parametrize("key", ["", KEY], ids=["plain", "sealed"])
def test_a_cut_or_altered_one_is_refused_before_anything_is_touched(lived, tmp_path, key) -> None:
    file = tmp_path / "b"
    backup_write(file, key)
    whole = file.read_bytes()
    for cut in (0, 10, len(whole) // 2, len(whole) - 1):
        file.write_bytes(whole[:cut])
        with pytest.raises(BackupFault, match=r"cut off|altered|no whole backup"):
            backup_restore(file, key)
    for at in range(20, len(whole) - 8, len(whole) // 12):
        file.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        with pytest.raises(BackupFault, match=r"cut off|altered|no whole backup"):
            backup_restore(file, key)


def test_one_into_a_place_in_use_or_of_another_version_is_refused(
    lived, tmp_path, monkeypatch
) -> None:
    file = tmp_path / "b"
    backup_write(file)
    with pytest.raises(BackupFault, match="recorded here already"):
        backup_restore(file)
    monkeypatch.setattr("config.backup._migrations", lambda: ["jobs.0001_initial"])
    with pytest.raises(BackupFault, match="another version"):
        backup_restore(file)
    with pytest.raises(BackupFault, match="is there already"):
        backup_write(file)


def test_a_photograph_that_is_gone_stops_the_backup(lived, tmp_path) -> None:
    lived["photograph"].file.storage.delete(lived["photograph"].file.name)
    with pytest.raises(BackupFault, match="its file is gone"):
        backup_write(tmp_path / "b")
    assert json.dumps(sorted(os.listdir(tmp_path))) == "[]"

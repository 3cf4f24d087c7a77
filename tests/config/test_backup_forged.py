"""A backup of somebody who may write none: refused where a key is set, and told where taken."""

import hashlib
import io
import json
import shutil
import tarfile
from pathlib import Path

import pytest
from cryptography.fernet import Fernet

from config import backup, backup_trust
from config.backup import END, BackupFault, backup_restore, backup_write
from jobs.models import Person
from notifications.models import Channel
from notifications.services.wishes import address_add
from tests.config.test_backup import KEY, other_place
from tests.sure import sure

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.alone]
PASSWORD = "pbkdf2_sha256$1$of$tests="


@pytest.fixture(scope="module")
def migrated(tmp_path_factory) -> Path:
    """The folder of an installation that holds nothing yet."""
    folder: Path = tmp_path_factory.mktemp("place") / "elsewhere"
    folder.mkdir()
    assert other_place(folder, "migrate", "--verbosity", "0").returncode == 0
    return folder


@pytest.fixture
def place(migrated: Path, tmp_path: Path) -> Path:
    """One of this test's own."""
    return shutil.copytree(migrated, tmp_path / "elsewhere")


def parts_of(file: Path) -> dict[str, bytes]:
    packed = file.read_bytes()[: -len(END) - 64]
    with tarfile.open(fileobj=io.BytesIO(packed), mode="r:gz") as tar:
        return {entry.name: sure(tar.extractfile(entry)).read() for entry in tar}


def packed(parts: dict[str, bytes]) -> bytes:
    """The parts as a file has them within, every digest in the manifest right."""
    manifest = json.loads(parts["manifest.json"])
    own = ("manifest.json", "manifest.mac")
    digests = {name: hashlib.sha256(parts[name]).hexdigest() for name in parts if name not in own}
    manifest |= {"parts": digests}
    parts = parts | {"manifest.json": json.dumps(manifest, sort_keys=True).encode()}
    out = io.BytesIO()
    with tarfile.open(fileobj=out, mode="w:gz") as tar:
        for name, content in parts.items():
            entry = tarfile.TarInfo(name)
            entry.size = len(content)
            tar.addfile(entry, io.BytesIO(content))
    return out.getvalue()


def finished(file: Path, content: bytes) -> None:
    file.write_bytes(content + END + hashlib.sha256(content).hexdigest().encode())


def forged(file: Path, person: Person) -> None:
    """A builder's person made office, and a password exchanged: everything else as it was."""
    parts, lines = parts_of(file), []
    for line in parts["records.jsonl"].splitlines():
        row = json.loads(line)
        if row["model"] == "jobs.membership" and row["fields"]["person"] == str(person.id):
            row["fields"] |= {"role": "office", "builder": None}
        if row["model"] == "jobs.person":
            row["fields"]["password"] = PASSWORD
        lines.append(json.dumps(row).encode())
    finished(file, packed(parts | {"records.jsonl": b"\n".join(lines) + b"\n"}))


def test_a_forged_one_is_refused_where_a_key_is_set(shop, tmp_path) -> None:
    file = tmp_path / "b"
    backup_write(file)
    forged(file, shop.builder)
    with pytest.raises(BackupFault, match="is not sealed, and a key is set"):
        backup_restore(file, KEY)


def test_taken_all_the_same_it_says_what_that_means(shop, tmp_path, place) -> None:
    file = tmp_path / "b"
    backup_write(file)
    forged(file, shop.builder)
    refused = other_place(place, "restore", str(file), key=KEY)
    assert refused.returncode == 1
    assert "Nothing was restored" in refused.stderr
    taken = other_place(place, "restore", str(file), "--unsealed", key=KEY)
    assert taken.returncode == 0, taken.stderr
    assert backup_trust.MEANS in taken.stderr
    assert f"In the office of {shop.shop}: {shop.builder.username}" in taken.stderr


def test_one_that_is_not_sealed_is_told_as_such_where_no_key_is_set(shop, tmp_path, place) -> None:
    file = tmp_path / "b"
    backup_write(file)
    taken = other_place(place, "restore", str(file))
    assert taken.returncode == 0, taken.stderr
    assert backup_trust.MEANS in taken.stderr


@pytest.mark.parametrize("mark", [b"", b"0" * 64, "é".encode()])
def test_a_manifest_that_is_not_under_the_key_is_refused(shop, tmp_path, mark, monkeypatch) -> None:
    """Sealed with the key, piece by piece, but put together by somebody else."""
    file = tmp_path / "b"
    monkeypatch.setattr(backup, "mark_of", lambda *_: mark.decode())
    backup_write(file, KEY)
    with pytest.raises(BackupFault, match="manifest is not under the key"):
        backup_restore(file, KEY)


def test_the_mark_is_of_the_manifest_and_of_the_key() -> None:
    mark = backup_trust.mark_of(b"{}", KEY)
    assert backup_trust.is_ours(b"{}", mark, KEY)
    assert not backup_trust.is_ours(b"{ }", mark, KEY)
    assert not backup_trust.is_ours(b"{}", mark, Fernet.generate_key().decode())


@pytest.mark.parametrize("spoilt", [b"[]", b"1", b"{}", b'{"format": "studbay-backup-1"}'])
def test_a_manifest_of_another_kind_is_refused_in_words(shop, tmp_path, spoilt) -> None:
    file = tmp_path / "b"
    backup_write(file)
    parts = parts_of(file) | {"manifest.json": spoilt}
    out = io.BytesIO()
    with tarfile.open(fileobj=out, mode="w:gz") as tar:
        for name, content in parts.items():
            entry = tarfile.TarInfo(name)
            entry.size = len(content)
            tar.addfile(entry, io.BytesIO(content))
    finished(file, out.getvalue())
    with pytest.raises(BackupFault, match=r"no whole backup|another version"):
        backup_restore(file)


def test_a_file_that_would_lie_elsewhere_is_refused(shop, tmp_path, place) -> None:
    file = tmp_path / "b"
    backup_write(file)
    finished(file, packed(parts_of(file) | {"files/../../outside": b"x"}))
    taken = other_place(place, "restore", str(file))
    assert taken.returncode == 1
    assert "Nothing was restored" in taken.stderr
    assert "Traceback" not in taken.stderr
    assert not list(tmp_path.rglob("outside"))


OPENS = """
from notifications.models import Address
from config.sealing import SealFault
for each in Address.objects.filter(channel="webhook"):
    try:
        print(each.channel, each.secret)
    except SealFault as fault:
        print(each.channel, type(fault).__name__)
"""


@pytest.fixture
def secret(shop) -> str:
    """The signing secret of a webhook that the shop has."""
    given = {"person": shop.lead, "shop": shop.shop, "channel": Channel.WEBHOOK}
    return address_add(shop.lead, target="https://hooks.studbay.example/1", **given).secret


def opened(place: Path) -> str:
    done = other_place(place, "shell", "-v", "0", "-c", OPENS)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_a_sealed_one_brings_the_keys_of_sealed_secrets(secret, tmp_path, place) -> None:
    file = tmp_path / "b"
    backup_write(file, KEY)
    restored = other_place(place, "restore", str(file), key=KEY)
    assert restored.returncode == 0, restored.stderr
    assert "keys of sealed secrets that came with it: 1" in restored.stdout
    assert secret in opened(place)
    assert (place / "sealing_keys").stat().st_mode & 0o077 == 0


def test_one_that_is_not_sealed_brings_no_key_and_everything_else_goes_on(
    secret, tmp_path, place
) -> None:
    file = tmp_path / "b"
    backup_write(file)
    restored = other_place(place, "restore", str(file))
    assert restored.returncode == 0, restored.stderr
    assert secret.encode() not in file.read_bytes()
    assert "enter the secrets again" in restored.stderr
    assert "webhook KeyMissing" in opened(place), "the row is read, but for that column"

"""A disc that is full: what was sent is told so, kept as typed, and leaves nothing half written."""

import errno
import os
import random
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import suppress
from io import BytesIO
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import OperationalError, connection
from django.urls import reverse
from PIL import Image
from rest_framework.test import APIClient

from config.atomic_files import WholeFiles, whole_file
from config.backup import backup_restore, backup_write
from config.fault_messages import DISK_FULL
from config.faults import not_now
from config.languages import say
from inspections.models import DeficiencyPhotograph, Photograph
from inspections.services.photographs import photograph_add
from jobs.models import ApiToken
from jobs.services.tokens import token_make
from tests.inspections.test_photographs import upload
from tests.lived import lived_in
from tests.sure import sure

pytestmark = pytest.mark.django_db
SIZE = 256 * 1024


class Disc:
    """A small file system; where none can be mounted, a folder that lets nothing onto the disc."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder, self.patch = folder, monkeypatch
        command = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "small", str(folder)]
        mount = shutil.which("mount")
        done = subprocess.run(command, capture_output=True, check=False) if mount else None
        self.mounted = done is not None and done.returncode == 0

    def fill(self) -> None:
        """Leave room for one block."""
        if not self.mounted:
            self.patch.setattr("config.atomic_files.os.fsync", _no_room)
            return
        with (self.folder / "filler").open("wb", buffering=0) as filler:
            with suppress(OSError):
                while True:
                    filler.write(bytes(4096))
            filler.truncate(filler.tell() - 8192)

    def free(self) -> None:
        """Make room."""
        self.patch.undo()
        (self.folder / "filler").unlink(missing_ok=True)

    def files(self) -> list[str]:
        """What lies on it, empty files among them."""
        found = (each for each in self.folder.rglob("*") if each.is_file())
        return sorted(each.name for each in found if each.name != "filler")

    def gone(self) -> None:
        """Give it back."""
        if self.mounted:
            subprocess.run(["umount", "-l", str(self.folder)], check=True)


def _no_room(_file: int) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.fixture
def disc(tmp_path, settings, monkeypatch) -> Iterator[Disc]:
    """Where photographs are kept from now on."""
    folder = tmp_path / "small"
    folder.mkdir()
    made = Disc(folder, monkeypatch)
    with_room = settings.STORAGES["default"] | {"OPTIONS": {"location": folder}}
    settings.STORAGES = settings.STORAGES | {"default": with_room}
    yield made
    made.gone()


def large() -> SimpleUploadedFile:
    """A picture of more bytes than the disc has left, which no packing makes smaller."""
    made = BytesIO()
    noise = Image.frombytes("RGB", (160, 160), random.Random(7).randbytes(160 * 160 * 3))
    noise.save(made, "PNG")
    return upload(made.getvalue())


@pytest.fixture
def job(shop, house_bytes):
    return lived_in(shop, house_bytes)["job"]


def test_a_photograph_without_room_leaves_no_file_and_the_page_says_why(
    client, shop, job, disc
) -> None:
    item, deficiency = job.items.first(), job.deficiencies.get()
    client.force_login(shop.lead)
    addresses = [
        reverse("photograph", args=[item.id]),
        reverse("deficiency-photograph", args=[deficiency.id]),
    ]
    disc.fill()
    for address in addresses:
        answer = client.post(address, {"photograph": large()})
        assert (answer.status_code, answer["Retry-After"]) == (503, "60")
        assert say(DISK_FULL()) in answer.text
        assert "Choose the file again." in answer.text
        assert disc.files() == []
    disc.free()
    for address in addresses:
        assert client.post(address, {"photograph": large()}).status_code == 302
    assert len(disc.files()) == 2
    assert (shop.own(Photograph).count(), shop.own(DeficiencyPhotograph).count()) == (1, 1)


def test_a_program_and_a_phone_are_told_so_too(client, shop, job, disc) -> None:
    item = job.items.first()
    api = APIClient(raise_request_exception=False)
    _, token = token_make(shop.lead, name="meter", scope=ApiToken.Scope.WRITE)
    api.credentials(HTTP_AUTHORIZATION=f"Bearer {token}")
    client.raise_request_exception = False
    client.force_login(shop.lead)
    disc.fill()
    by_program = api.post(f"/api/items/{item.id}/photographs", {"file": large()})
    given = {"id": "0192f0e0-0000-7000-8000-000000000001", "item": item.id, "file": large()}
    by_phone = client.post(reverse("walk-photograph", args=[job.id]), given)
    for answer in (by_program, by_phone):
        assert (answer.status_code, answer["Retry-After"]) == (503, "60")
        assert say(DISK_FULL()) in answer.text
    assert disc.files() == []
    assert not shop.own(Photograph).exists()


class Broken(ContentFile):  # type: ignore[type-arg]  # it is generic for mypy alone
    """A file whose second piece never comes."""

    def chunks(self, chunk_size=None):
        yield b"the first piece"
        _no_room(0)


def half(path: Path) -> None:
    with whole_file(path) as out:
        out.write(b"half")
        _no_room(0)


def test_what_breaks_off_midway_leaves_what_was_there(tmp_path) -> None:
    store = WholeFiles(location=tmp_path)
    assert store.save("there.jpg", ContentFile(b"before")) == "there.jpg"
    with pytest.raises(OSError, match="space"):
        store.save("there.jpg", Broken(b""))
    with pytest.raises(OSError, match="space"):
        half(tmp_path / "there.jpg")
    assert [each.name for each in tmp_path.iterdir()] == ["there.jpg"]
    assert (tmp_path / "there.jpg").read_bytes() == b"before"
    other = store.save("there.jpg", ContentFile(b"after"))
    assert other != "there.jpg"
    assert store.open(other).read() == b"after"


@pytest.mark.alone
def test_a_backup_without_room_leaves_nothing(shop, job, disc, tmp_path) -> None:
    photograph_add(shop.lead, item=job.items.first(), upload=large())
    default_storage.open(shop.own(Photograph).get().file.name).close()
    before = disc.files()
    disc.fill()
    with pytest.raises(OSError, match="space"):
        backup_write(disc.folder / "studbay.backup")
    assert disc.files() == before


@pytest.mark.django_db(transaction=True)
@pytest.mark.alone
def test_a_restore_without_room_takes_away_what_it_stored(
    shop, job, disc, tmp_path, monkeypatch
) -> None:
    for item in job.items.all()[:2]:
        photograph_add(shop.lead, item=item, upload=large())
    backup_write(tmp_path / "studbay.backup")
    for name in disc.files():
        next(disc.folder.rglob(name)).unlink()
    monkeypatch.setattr("config.backup._refuse_other_place", lambda *_: None)
    monkeypatch.setattr("config.backup._load", lambda _: None)
    save = WholeFiles.save
    saved: list[str] = []

    def save_one(self, name, content, max_length=None):
        if saved:
            _no_room(0)
        saved.append(name)
        return save(self, name, content, max_length)

    monkeypatch.setattr(WholeFiles, "save", save_one)
    with pytest.raises(OSError, match="space"):
        backup_restore(tmp_path / "studbay.backup")
    assert saved
    assert disc.files() == []


@pytest.fixture
def full_database(shop, transactional_db) -> Iterator[None]:
    """The database of this test has not a page left.

    Each row is its own transaction: SQLite itself rolls all of one back where there is no room.
    """
    if connection.vendor != "sqlite":
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE filler (bytes BLOB)")
        (pages,) = cursor.execute("PRAGMA page_count").fetchone()
        (most,) = cursor.execute("PRAGMA max_page_count").fetchone()
        cursor.execute(f"PRAGMA max_page_count = {pages}")
        try:
            for size in (1_000_000, 50_000, 2_000, 100):
                with suppress(OperationalError):
                    while True:
                        cursor.execute(f"INSERT INTO filler VALUES (zeroblob({size}))")
            yield
        finally:
            cursor.execute(f"PRAGMA max_page_count = {most}")
            cursor.execute("DROP TABLE filler")


@pytest.mark.django_db(transaction=True)
def test_a_full_database_is_told_as_full_and_keeps_what_was_typed(
    client, shop, monkeypatch, full_database
) -> None:
    client.force_login(shop.office)
    if connection.vendor == "postgresql":
        monkeypatch.setattr("pages.office.people.builder_add", _full_server)
    sent = [client.post("/people/firm/", {"name": f"Pellow & Sons {n}"}) for n in range(50)]
    full = next(answer for answer in sent if answer.status_code != 302)
    assert (full.status_code, full["Retry-After"]) == (503, "60")
    assert say(DISK_FULL()) in full.text
    assert "Pellow &amp; Sons" in full.text


def _full_server(*_: object, **__: object) -> None:
    from psycopg.errors import DiskFull

    raise OperationalError("could not extend file") from DiskFull()


def test_a_database_that_is_away_is_not_called_full() -> None:
    away = sure(not_now(OperationalError("server closed the connection")))
    assert away[0].id == "fault.database-away"
    assert not_now(OSError(errno.EACCES, "no")) is None
    assert not_now(ValueError()) is None

"""A backup: everything that is recorded and every photograph, in one file that proves itself.

A tar of `records.jsonl`, `files/…` and `manifest.json`, packed and, where a key is set, sealed
piece by piece. The manifest holds the digest of every other part, so that a file that was cut off
or altered is refused before anything is touched. Under a key the manifest carries a mark of that
key: where one is set, what is not sealed or carries no such mark is refused, since anybody could
have written it.
"""

import hashlib
import io
import json
import tarfile
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import IO, Any, BinaryIO

from cryptography.fernet import Fernet, InvalidToken
from django.apps import apps
from django.core import serializers
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management.color import no_style
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection, models, transaction
from django.db.migrations.recorder import MigrationRecorder

from config.atomic_files import whole_file
from config.backup_trust import KEYS, MARK, is_ours, keys_kept, keys_taken, mark_of

APPS = ("jobs", "inspections", "notifications", "api", "mfa")
FORMAT = "studbay-backup-2"
SEALED = b"studbay-sealed-1\n"
END = b"\nstudbay-end "
"""What the digest of everything before it follows."""
MANIFEST = "manifest.json"
PIECE = 1_000_000  # bytes that are sealed together
BATCH = 500


class BackupFault(Exception):
    """A backup that cannot be made or used; the text names the fault and the remedy."""


@dataclass(frozen=True, slots=True)
class BackupSummary:
    """What a backup holds."""

    records: int
    files: int
    digest: str
    """Of the records: two places that hold the same say the same."""
    sealed: bool = True
    """When it was restored: whether it was sealed, with our key."""
    keys: int = 0
    """When it was restored: how many keys of sealed secrets came with it."""


def backup_write(path: Path, key: str = "") -> BackupSummary:
    """Write a backup of this moment. Raises BackupFault when the file is there already."""
    if path.exists():
        raise BackupFault(f"{path}: is there already; name another file")
    with tempfile.TemporaryFile() as packed:
        told = _pack(packed, key)
        packed.seek(0)
        whole = hashlib.sha256()
        with whole_file(path) as out:
            for piece in _sealed(packed, key) if key else iter(lambda: packed.read(PIECE), b""):
                out.write(piece)
                whole.update(piece)
            out.write(END + whole.hexdigest().encode())
    return told


def _pack(out: BinaryIO, key: str) -> BackupSummary:
    """Everything in one transaction that sees one moment."""
    manifest: dict[str, Any] = {"format": FORMAT, "parts": {}, "migrations": _migrations()}
    with _one_moment(), tarfile.open(fileobj=out, mode="w:gz", compresslevel=6) as tar:
        with tempfile.TemporaryFile() as lines:
            count, names = 0, []
            for record in _records():
                lines.write(record)
                count += 1
            names = list(_file_names())
            _add(tar, manifest, "records.jsonl", lines)
        for name in names:
            if not default_storage.exists(name):
                raise BackupFault(f"{name}: is recorded, and its file is gone; restore it first")
            with default_storage.open(name) as file:
                _add(tar, manifest, f"files/{name}", file)
        digest = manifest["parts"]["records.jsonl"]
        manifest |= {"records": count, "files": len(names)}
        if key:
            _add(tar, manifest, KEYS, io.BytesIO(keys_kept()))
        content = json.dumps(manifest, sort_keys=True).encode()
        _add_bytes(tar, MANIFEST, content)
        if key:
            _add_bytes(tar, MARK, mark_of(content, key).encode())
    return BackupSummary(count, len(names), digest)


def _one_moment() -> Any:
    """A transaction in which nothing changes beneath: a snapshot on either database."""
    block = transaction.atomic()
    if connection.vendor == "postgresql":

        class Snapshot(transaction.Atomic):
            def __enter__(self) -> None:
                super().__enter__()
                if not connection.in_atomic_block or len(connection.atomic_blocks) == 1:
                    with connection.cursor() as cursor:
                        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")

        return Snapshot(None, True, False)
    return block


def _models() -> list[type[models.Model]]:
    """The models of the project, each after those that it refers to."""
    groups = []
    for name in APPS:
        groups.append((apps.get_app_config(name), None))
    return list(serializers.sort_dependencies(groups, allow_cycles=True))


def _records() -> Iterator[bytes]:
    for model in _models():
        rows = model._default_manager.order_by("pk").iterator(chunk_size=BATCH)
        for row in rows:
            yield serializers.serialize("jsonl", [row], cls=_Exact).encode()


class _Exact(DjangoJSONEncoder):
    """Moments to the microsecond: the record's digests rest on them."""

    def default(self, value: Any) -> Any:
        """A value that JSON has no word for."""
        if isinstance(value, datetime):
            return value.isoformat()
        return super().default(value)


def _file_names() -> Iterator[str]:
    for model in _models():
        for field in model._meta.get_fields():
            if isinstance(field, models.FileField):
                found = model._default_manager.exclude(**{field.name: ""}).order_by("pk")
                yield from found.values_list(field.name, flat=True)


def _migrations() -> list[str]:
    recorder = MigrationRecorder(connection)
    applied = []
    for app, name in recorder.applied_migrations():
        if app in APPS:
            applied.append(f"{app}.{name}")
    return sorted(applied)


def _add(tar: tarfile.TarFile, manifest: dict[str, Any], name: str, file: IO[bytes]) -> None:
    digest, size = hashlib.sha256(), 0
    file.seek(0)
    while piece := file.read(PIECE):
        digest.update(piece)
        size += len(piece)
    manifest["parts"][name] = digest.hexdigest()
    file.seek(0)
    entry = tarfile.TarInfo(name)
    entry.size = size
    tar.addfile(entry, file)


def _add_bytes(tar: tarfile.TarFile, name: str, content: bytes) -> None:
    entry = tarfile.TarInfo(name)
    entry.size = len(content)
    tar.addfile(entry, io.BytesIO(content))


def _sealed(file: BinaryIO, key: str) -> Iterator[bytes]:
    """Pieces of the file, each sealed with its number and whether it is the last."""
    seal = _fernet(key)
    yield SEALED
    number, piece = 0, file.read(PIECE)
    while True:
        after = file.read(PIECE)
        head = f"{number} {int(not after)} ".encode()
        yield seal.encrypt(head + piece) + b"\n"
        if not after:
            return
        number, piece = number + 1, after


def _fernet(key: str) -> Fernet:
    try:
        return Fernet(key)
    except ValueError:
        raise BackupFault(
            "STUDBAY_BACKUP_KEY: must be 32 bytes in URL-safe base64; `manage.py backup --new-key` "
            "prints one"
        ) from None


def backup_restore(path: Path, key: str = "", *, unsealed: bool = False) -> BackupSummary:
    """Put a backup into an empty place. Raises BackupFault, with nothing touched, when the file is
    not whole, is of another version, something is recorded here already, or a key is set that it
    is not sealed with; `unsealed` takes one that is not sealed all the same."""
    with tempfile.TemporaryFile() as packed, _whole(path) as kept:
        sealed = _opened(path, kept, key, packed)
        if key and not sealed and not unsealed:
            raise BackupFault(
                f"{path}: is not sealed, and a key is set, so it may be anybody's; if you know "
                "where it was since it was made, `restore --unsealed` takes it"
            )
        manifest = _checked(path, packed, key if sealed else "")
        _refuse_other_place(path, manifest)
        packed.seek(0)
        with tarfile.open(fileobj=packed, mode="r:gz") as tar, transaction.atomic():
            _load(tar)
            with _taken_away_if_refused() as stored:
                _store(tar, manifest, stored)
                keys = 0
                if sealed:
                    keys = keys_taken(_part(tar, KEYS).read())
    digest = manifest["parts"]["records.jsonl"]
    return BackupSummary(manifest["records"], manifest["files"], digest, sealed, keys)


@contextmanager
def _whole(path: Path) -> Iterator[BinaryIO]:
    """What a file holds before its digest, once that is right."""
    tail = len(END) + 64
    size = path.stat().st_size
    with path.open("rb") as file, tempfile.TemporaryFile() as kept:
        digest, left = hashlib.sha256(), max(size - tail, 0)
        while left and (piece := file.read(min(PIECE, left))):
            digest.update(piece)
            kept.write(piece)
            left -= len(piece)
        if file.read() != END + digest.hexdigest().encode():
            raise BackupFault(f"{path}: is no whole backup; it was cut off or altered")
        kept.seek(0)
        yield kept


def _opened(path: Path, file: BinaryIO, key: str, out: BinaryIO) -> bool:
    """The packed file without its seal; whether it had one."""
    if file.read(len(SEALED)) != SEALED:
        file.seek(0)
        while piece := file.read(PIECE):
            out.write(piece)
        return False
    if not key:
        raise BackupFault(f"{path}: is sealed; set STUDBAY_BACKUP_KEY to the key it was made with")
    seal, last = _fernet(key), False
    for number, line in enumerate(file):
        try:
            said, end, piece = seal.decrypt(line.rstrip(b"\n")).split(b" ", 2)
        except (InvalidToken, ValueError):
            raise BackupFault(f"{path}: was altered, or the key is another") from None
        if int(said) != number or last:
            raise BackupFault(f"{path}: its pieces are out of order; it was altered")
        last = bool(int(end))
        out.write(piece)
    if not last:
        raise BackupFault(f"{path}: ends before its end; it was cut off")
    return True


def _checked(path: Path, packed: BinaryIO, key: str) -> dict[str, Any]:
    """The manifest, once every part is what it says, and under a key its mark is ours."""
    said = {MANIFEST: b"{}", MARK: b""}
    try:
        seen = _digests(path, packed, said)
        manifest = json.loads(said[MANIFEST])
    except (tarfile.TarError, EOFError, OSError, ValueError):  # what a cut or altered file gives
        raise BackupFault(f"{path}: is no whole backup; it was cut off or altered") from None
    if key and not is_ours(said[MANIFEST], said[MARK].decode("ascii", "replace"), key):
        raise BackupFault(f"{path}: its manifest is not under the key; it was altered")
    if not isinstance(manifest, dict) or "format" not in manifest:
        raise BackupFault(f"{path}: is no whole backup; it was cut off or altered")
    if manifest["format"] != FORMAT:
        raise BackupFault(
            f"{path}: was made by another version of Studbay; restore with that, then migrate"
        )
    if manifest.get("parts") != seen:
        raise BackupFault(f"{path}: its parts are not those of its manifest; it was altered")
    return manifest


def _digests(path: Path, packed: BinaryIO, said: dict[str, bytes]) -> dict[str, str]:
    """The digest of each part of a backup; those named in `said` are read into it instead."""
    packed.seek(0)
    digests: dict[str, str] = {}
    with tarfile.open(fileobj=packed, mode="r:gz") as tar:
        for entry in tar:
            file = tar.extractfile(entry)
            if file is None:
                raise BackupFault(f"{path}: holds something that is no file")
            if entry.name in said:
                said[entry.name] = file.read()
                continue
            content = hashlib.sha256()
            while piece := file.read(PIECE):
                content.update(piece)
            digests[entry.name] = content.hexdigest()
    return digests


def _refuse_other_place(path: Path, manifest: dict[str, Any]) -> None:
    if manifest["migrations"] != _migrations():
        raise BackupFault(
            f"{path}: was made by another version of Studbay; restore with that, then migrate"
        )
    for model in _models():
        if model._default_manager.exists():
            raise BackupFault(
                f"{model._meta.verbose_name_plural} are recorded here already; restore into an "
                "empty database"
            )


def _part(tar: tarfile.TarFile, name: str) -> IO[bytes]:
    """One part of a backup, to be read."""
    part = tar.extractfile(name)
    assert part is not None  # ours are files, and no folders
    return part


def _load(tar: tarfile.TarFile) -> None:
    """Write the records as they were, past what follows from a new one."""
    file = _part(tar, "records.jsonl")
    batch: list[models.Model] = []
    linked: list[tuple[models.Model, str, Sequence[Any]]] = []
    with connection.constraint_checks_disabled():
        for found in serializers.deserialize("jsonl", io.TextIOWrapper(file, "utf-8")):
            if batch and (type(batch[0]) is not type(found.object) or len(batch) >= BATCH):
                _write(batch)
                batch = []
            batch.append(found.object)
            many = found.m2m_data or {}
            for name, keys in many.items():
                if keys:
                    linked.append((found.object, name, keys))
        _write(batch)
        for row, name, keys in linked:
            getattr(row, name).set(keys)
    connection.check_constraints()
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), _models()):
            cursor.execute(statement)


def _write(batch: list[models.Model]) -> None:
    if batch:
        type(batch[0])._base_manager.bulk_create(batch)


@contextmanager
def _taken_away_if_refused() -> Iterator[list[str]]:
    """Names of files that were stored; they go again when not all of them could be."""
    stored: list[str] = []
    try:
        yield stored
    except BaseException:
        for name in stored:
            default_storage.delete(name)
        raise


def _store(tar: tarfile.TarFile, manifest: dict[str, Any], stored: list[str]) -> None:
    """Put the files in their places; one that is there already with another content is refused."""
    for name in manifest["parts"]:
        if not name.startswith("files/"):
            continue
        content = _part(tar, name).read()
        target = name.removeprefix("files/")
        if default_storage.exists(target):
            with default_storage.open(target) as there:
                if there.read() != content:
                    raise BackupFault(f"{target}: is there already, and is another file")
            continue
        stored.append(default_storage.save(target, ContentFile(content)))

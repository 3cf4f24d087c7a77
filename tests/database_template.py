"""The tables of a SQLite test database, made once for all processes that need them.

Some sixty migrations of ours take ten seconds, in each worker of each run. What they make is kept
in the machine's folder for temporary files, under a digest of all that it is made from; whoever
comes next copies it in a moment. Django still compares it with the migrations there are.
"""

import fcntl
import hashlib
import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from django.db import connection
from django.db.backends.signals import connection_created

ROOT = Path(__file__).resolve().parent.parent
MADE_FROM = ("config", "jobs", "inspections", "notifications", "api", "pages")
"""Folders whose code migrations may import, or whose settings and models they follow."""
OLD = 86_400
"""Seconds after which the tables of another tree are thrown away."""


def template() -> Path:
    """Where the tables of this tree are kept; it may not be there yet."""
    told = hashlib.sha256((ROOT / "requirements.txt").read_bytes())
    for folder in MADE_FROM:
        for path in sorted((ROOT / folder).rglob("*.py")):
            told.update(path.read_bytes())
    kept = Path(tempfile.gettempdir()) / f"studbay-tables-{os.getuid()}"
    kept.mkdir(mode=0o700, exist_ok=True)
    return kept / f"{told.hexdigest()[:16]}.sqlite3"


@contextmanager
def lent() -> Iterator[None]:
    """While a test database is made: it begins with the tables, or ends with them kept.

    One process makes them; others that come meanwhile wait for it.
    """
    path = template()
    with path.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if path.exists():
            fcntl.flock(lock, fcntl.LOCK_UN)
            with _filled(path):
                yield
            return
        yield
        _keep(path)


@contextmanager
def _filled(path: Path) -> Iterator[None]:
    """The first connection, which opens the empty database in memory, finds the tables in it."""

    def fill(connection: Any, **_: object) -> None:
        connection_created.disconnect(fill)
        with closing(sqlite3.connect(path)) as kept:
            kept.backup(connection.connection)

    connection_created.connect(fill, weak=False)
    try:
        yield
    finally:
        connection_created.disconnect(fill)


def _keep(path: Path) -> None:
    now = path.with_suffix(".lock").stat().st_mtime
    for old in path.parent.iterdir():
        if now - old.stat().st_mtime > OLD:
            old.unlink()
    new = path.with_suffix(".new")
    new.unlink(missing_ok=True)
    connection.ensure_connection()
    with closing(sqlite3.connect(new)) as kept:
        connection.connection.backup(kept)
    new.replace(path)

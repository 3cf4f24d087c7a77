"""Large house files are read one at a time in a process.

A file of the largest size takes a hundred megabytes while it is read; as many as there are threads
would take the machine. Whoever comes meanwhile waits for some seconds.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import RLock

LARGE = 200_000
"""Bytes of a file from which on it waits for another one."""
_READING = RLock()


@contextmanager
def one_at_a_time(size: int = LARGE) -> Iterator[None]:
    """Whatever reads a file of so many bytes; a small one waits for nobody."""
    if size < LARGE:
        yield
        return
    with _READING:
        yield

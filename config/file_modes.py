"""What Studbay keeps is its owner's alone on this machine: files 0600, folders 0700.

Whoever starts it, and with whatever umask: every process that reads the settings takes what others
may do away from what it makes. What is there already, from a version before or copied in by hand,
is tightened when a site starts.
"""

import logging
import os
import stat
from collections.abc import Iterator
from pathlib import Path

log = logging.getLogger(__name__)

OTHERS = 0o077
"""What everybody but the owner may do."""


def keep_private() -> None:
    """From now on this process, and what it starts, makes nothing that others may read."""
    os.umask(os.umask(0) | OTHERS)


def private_folder(path: Path) -> None:
    """A folder of the owner's alone, made or tightened."""
    path.mkdir(mode=0o700, parents=True, exist_ok=True)
    _take_away(path)


def tighten(folder: Path) -> None:
    """Take away what others may do with anything in a folder; what is not ours is told."""
    kept = []
    for path in (folder, *_within(folder)):
        if not _take_away(path):
            kept.append(path)
    if kept:
        log.warning(
            "%s and %d more can be read by others on this machine, and belong to somebody else; "
            "give them to the one that Studbay runs as",
            kept[0],
            len(kept) - 1,
        )


def _within(folder: Path) -> Iterator[Path]:
    """Everything beneath, without following a link out of it."""
    for here, folders, files in os.walk(folder):
        for name in (*folders, *files):
            path = Path(here, name)
            if not path.is_symlink():
                yield path


def _take_away(path: Path) -> bool:
    """Whether nobody else may do anything with it now."""
    try:
        mode = stat.S_IMODE(path.stat().st_mode)
        if mode & stat.S_ISVTX or not mode & OTHERS:
            return True  # a folder that everybody shares, such as /tmp, is not ours to close
        path.chmod(mode & ~OTHERS)
    except FileNotFoundError:
        return True  # it went meanwhile
    except PermissionError:
        return False
    return True

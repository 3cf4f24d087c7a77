"""Files that are there whole or not at all, also on a disc that is full halfway."""

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from django.core.files.storage import FileSystemStorage

from config.file_modes import private_folder
from config.generics import File


@contextmanager
def whole_file(path: Path) -> Iterator[BinaryIO]:
    """A file to write, which takes its place once all of it is on the disc.

    Whatever is raised within, or at the end when the disc has no room, leaves nothing behind.
    """
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        # 0600 whatever the umask is: what is kept here is nobody else's on this machine.
        with open(part, "xb", opener=lambda name, flags: os.open(name, flags, 0o600)) as out:
            yield out
            out.flush()
            os.fsync(out.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


class _Written(File[bytes]):
    """A file that lies in a folder already, and only has to be moved."""

    def __init__(self, path: Path) -> None:
        super().__init__(None, path.name)
        self.path = path

    def temporary_file_path(self) -> str:
        """Where it lies."""
        return str(self.path)


class WholeFiles(FileSystemStorage):
    """A folder in which no file is empty or cut off because there was no room for it."""

    def _save(self, name: str, content: File[bytes]) -> str:
        folder = Path(self.location)
        private_folder(folder)
        written = folder / f".{secrets.token_hex(8)}"
        try:
            with whole_file(written) as out:
                for chunk in content.chunks():
                    out.write(chunk)
            # Django's types leave out what is its own to override.
            kept: str = super()._save(name, _Written(written))  # type: ignore[misc]
            return kept
        finally:
            written.unlink(missing_ok=True)

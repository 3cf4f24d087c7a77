"""What Studbay keeps on the machine it runs on: a key of its own, the broker's socket."""

import contextlib
import hashlib
import os
import secrets
import tempfile
from pathlib import Path

SOCKET_PATH_MAX = 100  # bytes; Linux takes 107, other systems fewer


def secret_key(var: Path) -> str:
    """The key of this machine, made at the first start and readable by its owner alone."""
    return made_once(var / "secret_key", secrets.token_urlsafe(64))


def made_once(path: Path, text: str) -> str:
    """What a file of the owner's alone holds: the text, or what another start wrote before."""
    if not path.exists():
        fresh = path.with_name(f"{path.name}.{os.getpid()}")
        try:
            fresh.touch(mode=0o600)
            fresh.write_text(text)
            with contextlib.suppress(FileExistsError):
                os.link(fresh, path)  # the first of several starts wins
        finally:
            fresh.unlink(missing_ok=True)  # also where the disc has no room for it
    return path.read_text()


def broker_socket(var: Path) -> Path:
    """Where the bundled broker listens: in `var`, or in the temporary folder if that is deep."""
    path = var.resolve() / "valkey.sock"
    if len(os.fsencode(path)) <= SOCKET_PATH_MAX:
        return path
    tag = hashlib.sha256(os.fsencode(path)).hexdigest()[:12]
    return Path(tempfile.gettempdir()) / f"studbay-{os.getuid()}-{tag}.sock"

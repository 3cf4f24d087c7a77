"""By what a backup shows that it is ours: a manifest under a key, and the keys of sealed secrets.

The keys that seal secrets in the database go into a backup that is sealed itself, and into no
other: who lost the machine has then one key to keep, that of the backups, and whoever finds one
that is not sealed reads no secret in it. They come into the file of the place that it is restored
into; `manage.py reseal` moves everything to that place's own key.
"""

import base64
import hashlib
import hmac
import os
from pathlib import Path

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from django.conf import settings

from config import sealing

KEYS = "sealing_keys"
"""The part of a sealed backup that holds them."""
MARK = "manifest.mac"
"""The part that holds the manifest's mark."""
MEANS = (
    "This file is not sealed: nothing shows who made it, or that nobody changed it since. Whoever "
    "could write it may have put themselves into an office, exchanged a password or changed what "
    "was recorded, and the record would verify all the same."
)


def mark_of(manifest: bytes, key: str) -> str:
    """What only who has the key can write under a manifest (HMAC-SHA-256, RFC 2104)."""
    drawn = HKDF(hashes.SHA256(), 32, None, b"studbay backup manifest").derive(key.encode())
    return hmac.new(drawn, manifest, hashlib.sha256).hexdigest()


def is_ours(manifest: bytes, mark: str, key: str) -> bool:
    """Whether the mark is that of the manifest under the key."""
    return hmac.compare_digest(mark_of(manifest, key).encode(), mark.encode())


def keys_kept() -> bytes:
    """The keys that open what is sealed here, as the file of keys has them."""
    lines = []
    for each in sealing.keys().values():
        lines.append(base64.urlsafe_b64encode(each.raw).decode())
    ended = []
    for line in lines:
        ended.append(f"{line}\n")
    return "".join(ended).encode()


def keys_taken(content: bytes) -> int:
    """Put keys into this place's file, after its own, so that they open and do not seal."""
    sealing.forget_keys()
    mine = set(keys_kept().decode().split())
    fresh = []
    for line in content.decode().split():
        if line not in mine:
            fresh.append(line)
    file = Path(settings.VAR) / sealing.FILE
    if fresh:
        flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND
        with open(os.open(file, flags, 0o600), "a", encoding="ascii") as out:
            for line in fresh:
                out.write(f"{line}\n")
    sealing.forget_keys()
    return len(fresh)

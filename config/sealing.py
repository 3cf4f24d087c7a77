"""Secrets that have to be read again, sealed so that the database alone tells none of them.

Sealed by AES-256-GCM (NIST SP 800-38D) with a key that is kept elsewhere than the database. What is
kept is `s1:<id of the key>:<nonce and ciphertext in base64>`. The column is sealed in with it: a
value that was moved to another column does not open there.

The first key seals, all of them unseal: those of STUDBAY_SEALING_KEYS, then, in cluster mode, those
that follow from SECRET_KEY and its fallbacks, then those of the file `sealing_keys` under
STUDBAY_VAR, which is made where there is no other.
"""

import base64
import hashlib
import secrets
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from django.conf import settings

from config.environment import key_bytes
from config.var import made_once

FORM = "s1"
NONCE = 12  # bytes
FILE = "sealing_keys"


class SealFault(Exception):
    """A sealed value that cannot be opened; the text says why and what would help."""


class KeyMissing(SealFault):
    """The key that it was sealed with is not here."""


@dataclass(frozen=True, slots=True)
class Key:
    """A key, and the name that sealed values know it by."""

    id: str
    raw: bytes = field(repr=False)

    @property
    def cipher(self) -> AESGCM:
        """What seals and unseals with it."""
        return AESGCM(self.raw)


def new_key() -> str:
    """A key as the environment and the file have it."""
    return base64.urlsafe_b64encode(secrets.token_bytes(32)).decode()


def seal(text: str, *, of: str) -> str:
    """The text sealed for a column (`table.column`), differently each time."""
    key, nonce = next(iter(keys().values())), secrets.token_bytes(NONCE)
    closed = key.cipher.encrypt(nonce, text.encode(), of.encode())
    return f"{FORM}:{key.id}:{base64.urlsafe_b64encode(nonce + closed).decode()}"


def unseal(text: str, *, of: str) -> str:
    """What was sealed for that column.

    Raises KeyMissing when none of our keys is the one, SealFault when it was altered, or sealed for
    another column.
    """
    key = keys().get(key_id(text))
    if key is None:
        forget_keys()  # the file may have another key since
        key = keys().get(key_id(text))
    if key is None:
        raise KeyMissing(
            f"{of} was sealed with the key {key_id(text)!r}, which is not here; put that key into "
            f"STUDBAY_SEALING_KEYS or into the file {FILE} under STUDBAY_VAR"
        )
    try:
        whole = base64.urlsafe_b64decode(text.rpartition(":")[2])
        return key.cipher.decrypt(whole[:NONCE], whole[NONCE:], of.encode()).decode()
    except (InvalidTag, ValueError):
        raise SealFault(
            f"{of} holds something that was altered, or moved there from elsewhere; enter it anew"
        ) from None


def is_sealed(text: str) -> bool:
    """Whether it has the form of a sealed value."""
    form, _, rest = text.partition(":")
    return form == FORM and ":" in rest


def key_id(text: str) -> str:
    """The id of the key that a value was sealed with; empty when it is not sealed."""
    if is_sealed(text):
        return text.split(":", 2)[1]
    return ""


def first_key_id() -> str:
    """The id of the key that seals now."""
    return next(iter(keys()))


@lru_cache(maxsize=1)
def _ring(given: tuple[str, ...], drawn: tuple[str, ...], var: Path) -> dict[str, Key]:
    file = var / FILE
    given_keys = []
    for each in given:
        given_keys.append(key_bytes(each))
    froms = []
    for each in drawn:
        froms.append(_drawn_from(each))
    ring = given_keys + froms
    if not ring:
        made_once(file, new_key() + "\n")
    if file.exists():
        for each in file.read_text().split():
            ring.append(_of_file(file, each))
    named: dict[str, Key] = {}
    for each in ring:
        name = _name_of(each)
        named[name] = Key(name, each)
    return named


def _of_file(file: Path, line: str) -> bytes:
    try:
        return key_bytes(line)
    except ValueError as fault:
        raise SealFault(f"{file}: each of its lines {fault}") from None


def keys() -> dict[str, Key]:
    """Every key by its id, the one that seals first."""
    environment = settings.ENVIRONMENT
    drawn = ()
    if environment.cluster:
        drawn = (settings.SECRET_KEY, *settings.SECRET_KEY_FALLBACKS)
    return _ring(tuple(environment.studbay_sealing_keys), drawn, Path(settings.VAR))


def forget_keys() -> None:
    """Read the keys anew when one is next needed."""
    _ring.cache_clear()


def _name_of(key: bytes) -> str:
    return hashlib.sha256(b"studbay sealing key " + key).hexdigest()[:8]


def _drawn_from(secret: str) -> bytes:
    """A key of its own from SECRET_KEY (HKDF, RFC 5869): where many machines share no folder."""
    return HKDF(hashes.SHA256(), 32, None, b"studbay sealing").derive(secret.encode())

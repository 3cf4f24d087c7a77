"""Secrets of links: shown once, kept as a digest; whoever reads the database has none of them."""

import hashlib
import secrets


def new_secret() -> str:
    """160 bits that nobody guesses, fit for an address."""
    return secrets.token_urlsafe(20)


def digest_of(secret: str) -> str:
    """What is kept of a secret."""
    return hashlib.sha256(secret.encode()).hexdigest()

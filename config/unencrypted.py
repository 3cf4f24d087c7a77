"""Which settings would send over a network what anybody on it can read, or forge.

Between machines everything goes by TLS, with the other's certificate checked, unless whoever runs
the server says that nobody else reads that network (STUDBAY_PLAIN_NETWORK).
"""

from ipaddress import ip_address
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

REMEDY = "or set STUDBAY_PLAIN_NETWORK=yes where nobody else reads or writes that network"
UNSURE = ("disable", "allow", "prefer")
"""Values of `sslmode` by which libpq goes on without TLS."""
CHECKED = {"sslmode": "verify-full", "sslrootcert": "system"}
"""The TLS mode for PostgreSQL on another machine, unless its address sets one."""
INSTEAD = {
    "redis_url": ("redis", "rediss://"),
    "studbay_mail_url": ("smtp+plain", "smtp:// (STARTTLS) or smtps://"),
    "studbay_site": ("http", "https://"),
    "studbay_s3_endpoint": ("http", "https://"),
    "studbay_errors_dsn": ("http", "https://"),
    "studbay_traces_url": ("http", "https://"),
}
"""Addresses by setting: the scheme that goes in clear, and what would not."""


def here(host: str | None) -> bool:
    """Whether a host is this machine: a socket, or loopback."""
    name = unquote(host or "").strip("[]")
    if not name or name.startswith("/") or name == "localhost" or name.endswith(".localhost"):
        return True
    try:
        return ip_address(name).is_loopback
    except ValueError:
        return False


def host_of(database_url: str) -> str:
    """The host of a PostgreSQL address, which may stand in its query."""
    parts = urlsplit(database_url)
    asked = parse_qs(parts.query).get("host", [""])[0]
    return asked or parts.hostname or ""


def checked_tls(database_url: str) -> dict[str, str]:
    """Options of libpq by which the server's certificate is checked; none where it is here."""
    if here(host_of(database_url)) or "sslmode=" in database_url:
        return {}
    return dict(CHECKED)


def plain_faults(environment: Any) -> list[str]:
    """Each setting that goes in clear to or from another machine, with its remedy."""
    if environment.studbay_plain_network:
        return []
    faults = []
    database = environment.database_url
    mode = parse_qs(urlsplit(database).query).get("sslmode", [""])[0]
    if database and mode in UNSURE and not here(host_of(database)):
        faults.append(f"DATABASE_URL: sslmode={mode} goes without TLS; give verify-full, {REMEDY}")
    for name, (scheme, instead) in INSTEAD.items():
        parts = urlsplit(getattr(environment, name))
        if parts.scheme == scheme and not here(parts.hostname):
            faults.append(f"{name.upper()}: {scheme}:// goes without TLS; give {instead}, {REMEDY}")
    listens = environment.studbay_listen.rpartition(":")[0]
    if not environment.https and not here(listens):
        faults.append(f"STUDBAY_LISTEN: set STUDBAY_HTTPS behind a proxy with TLS, {REMEDY}")
    return faults

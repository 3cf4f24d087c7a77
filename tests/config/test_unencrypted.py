"""Nothing goes in clear between machines unless it is said; secrets may come in files.

OWASP ASVS 5.0.0: 12.2.1, 12.3.1, 12.3.2, 12.3.4, 13.3.1.
"""

import ast
import os
import subprocess
import sys

import pytest
from django.core.exceptions import ImproperlyConfigured

from config.environment import UNTOLD, read_environment
from config.unencrypted import checked_tls, here

CLUSTER = {
    "DATABASE_URL": "postgresql://u:p@db.example/studbay",
    "REDIS_URL": "rediss://broker.example:6379/0",
    "SECRET_KEY": "k" * 50,
}
IN_CLEAR = {
    "DATABASE_URL": "postgresql://u:p@db.example/studbay?sslmode=prefer",
    "REDIS_URL": "redis://broker.example:6379/0",
    "STUDBAY_MAIL_URL": "smtp+plain://mail.example:25",
    "STUDBAY_SITE": "http://studbay.example",
    "STUDBAY_S3_ENDPOINT": "http://store.example",
    "STUDBAY_TRACES_URL": "http://collector.example/v1/traces",
    "STUDBAY_ERRORS_DSN": "http://key@errors.example/1",
}


@pytest.mark.parametrize("name", IN_CLEAR)
def test_what_would_go_in_clear_stops_the_start(name: str) -> None:
    given = CLUSTER | {name: IN_CLEAR[name], "STUDBAY_S3_BUCKET": "b"}
    with pytest.raises(ImproperlyConfigured, match=rf"{name}: .* without TLS; give ") as refusal:
        read_environment(given)
    assert "STUDBAY_PLAIN_NETWORK" in str(refusal.value)
    assert "u:p@" not in str(refusal.value)
    assert read_environment(given | {"STUDBAY_PLAIN_NETWORK": "yes"})


def test_a_site_that_others_reach_is_behind_tls() -> None:
    with pytest.raises(ImproperlyConfigured, match="STUDBAY_LISTEN: set STUDBAY_HTTPS"):
        read_environment({"STUDBAY_LISTEN": "0.0.0.0:8765"})
    assert read_environment({"STUDBAY_LISTEN": "0.0.0.0:8765", "STUDBAY_HTTPS": "yes"})
    assert read_environment({"STUDBAY_LISTEN": "127.0.0.1:8765"})


def test_on_this_machine_nothing_is_asked() -> None:
    for host in ("localhost", "127.0.0.1", "%2Frun%2Fdatabase", ""):
        assert here(host)
        assert checked_tls(f"postgresql://u:p@{host}/studbay") == {}
    assert checked_tls("postgresql:///studbay?host=/run/database") == {}
    for host in ("db.example", "10.0.0.5", "127.0.0.1.example"):
        assert not here(host)


@pytest.mark.parametrize(
    ("query", "mode"), [("", "verify-full"), ("?sslmode=verify-ca&sslrootcert=/ca", "verify-ca")]
)
def test_the_certificate_of_the_database_is_checked(tmp_path, query: str, mode: str) -> None:
    told = "from config.settings import DATABASES; print(DATABASES['default']['OPTIONS'])"
    given = CLUSTER | {"DATABASE_URL": CLUSTER["DATABASE_URL"] + query}
    run = subprocess.run(
        [sys.executable, "-c", told],
        env=os.environ | given | {"STUDBAY_VAR": str(tmp_path)},
        capture_output=True,
        text=True,
        check=True,
    )
    options = ast.literal_eval(run.stdout)
    assert options["sslmode"] == mode
    assert options["sslrootcert"] == ("/ca" if query else "system")


@pytest.mark.parametrize(
    "name", [name for name in UNTOLD if name in ("secret_key", "database_url")]
)
def test_a_secret_comes_from_a_file(tmp_path, name: str) -> None:
    value = CLUSTER[name.upper()]
    kept = tmp_path / name
    kept.write_text(f"{value}\n")
    given = {key: text for key, text in CLUSTER.items() if key != name.upper()}
    read = read_environment(given | {f"{name.upper()}_FILE": str(kept)})
    assert getattr(read, name) == value
    with pytest.raises(ImproperlyConfigured, match="is set too"):
        read_environment(CLUSTER | {f"{name.upper()}_FILE": str(kept)})
    with pytest.raises(ImproperlyConfigured, match=r"cannot be read: FileNotFoundError"):
        read_environment(given | {f"{name.upper()}_FILE": str(tmp_path / "gone")})


def test_every_secret_may() -> None:
    for name in UNTOLD:
        fault = f"{name.upper()}_FILE: cannot be read"
        with pytest.raises(ImproperlyConfigured, match=fault):
            read_environment({f"{name.upper()}_FILE": "/nowhere/at/all"})

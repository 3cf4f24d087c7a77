"""Cluster mode is fit to be reached by others: Django's own deployment checks are clean."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def manage(*arguments: str, **variables: str) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL")}
    return subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env=environment | variables,
        capture_output=True,
        text=True,
        check=False,
    )


def test_check_deploy_is_clean_in_cluster_mode() -> None:
    done = manage(
        "check",
        "--deploy",
        "--fail-level",
        "WARNING",
        DATABASE_URL="postgresql://u:p@127.0.0.1:1/studbay",
        REDIS_URL="redis://127.0.0.1:1/0",
        SECRET_KEY="0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOP",
        ALLOWED_HOSTS="studbay.example.org",
        STUDBAY_HTTPS="true",
    )
    assert done.returncode == 0, done.stderr


def test_a_faulty_variable_stops_the_start_with_its_name_and_no_traceback() -> None:
    done = manage("check", STUDBAY_LISTN="1")
    assert done.returncode == 2
    assert done.stderr.startswith("STUDBAY_LISTN: is not a setting of Studbay")
    assert "Traceback" not in done.stderr

"""A database of each earlier version comes through the migrations with nothing lost."""

import json
import lzma
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.upgrades.folder import another_database, run_script

HERE = Path(__file__).parent
VERSIONS = sorted(each.name for each in HERE.glob("v*"))
ANOTHER: dict[str, dict[str, Any]] = {
    # A look dated ahead hid a fault that was found after it, and the area stayed released.
    "clear over a fail": {"stage": "rough-in", "live": ["west"]},
    # The reason of a withdrawal by hand holds until somebody answers it.
    "withdrawn by hand": {"holds": {"east": ["withdrawn"], "west": []}},
}
"""Jobs that must show something else than their version showed, by name, and what."""


def upgraded(folder: Path, environment: dict[str, str]) -> dict[str, Any]:
    """The report of a process that upgrades the database which the environment names."""
    command = [sys.executable, "-m", "tests.upgrades", str(folder / "queue.json")]
    done = subprocess.run(
        command, env=os.environ | environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-3000:]
    report: dict[str, Any] = json.loads(done.stdout)
    return report


def holds_to(report: dict[str, Any], folder: Path) -> None:
    """Nothing lost, nothing reopened, nothing released, every tick of the phone kept."""
    assert report["lost"] == []
    was = json.loads((folder / "expected.json").read_text("utf-8"))["jobs"]
    assert report["jobs"].keys() == was.keys()
    for job_id, expected in was.items():
        found = report["jobs"][job_id]
        assert found["record"] == []
        wanted = expected | ANOTHER.get(expected["name"], {})
        assert {name: found[name] for name in wanted} == wanted
    assert report["by newer rules"] == report["jobs"], "a newer rule reopened what had passed"
    assert report["carried"]
    assert report["left"] == 0
    queue = json.loads((folder / "queue.json").read_text("utf-8"))
    assert [each["id"] for each in report["sent"]] == [each["id"] for each in queue["ticks"]]
    assert {each["state"] for each in report["sent"]} == {"kept"}


@pytest.mark.parametrize("version", VERSIONS)
def test_a_database_of_sqlite_is_upgraded_with_nothing_lost(version, tmp_path) -> None:
    folder = HERE / version / "sqlite"
    kept = lzma.decompress((folder / "database.xz").read_bytes())
    (tmp_path / "studbay.sqlite3").write_bytes(kept)
    environment = {"STUDBAY_VAR": str(tmp_path), "DATABASE_URL": "", "REDIS_URL": ""}
    holds_to(upgraded(folder, environment), folder)


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("version", VERSIONS)
def test_a_database_of_postgresql_is_upgraded_with_nothing_lost(version, tmp_path) -> None:
    folder = HERE / version / "postgresql"
    script = lzma.decompress((folder / "database.xz").read_bytes())
    with another_database(os.environ["DATABASE_URL"]) as url:
        run_script(url, script)
        environment = {"STUDBAY_VAR": str(tmp_path), "DATABASE_URL": url}
        holds_to(upgraded(folder, environment), folder)

"""Databases that `make.py` kept come through the migrations since with nothing lost."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.upgrades import folder
from tests.upgrades.renamed import RENAMED
from tests.upgrades.scene.everything import everything

KEPT = sorted(path.parent for path in folder.HERE.glob(f"*/{folder.MANIFEST}"))
NO_WORSE = {"kept": 0, "contested": 1, "stale": 2, "refused": 3}


def upgraded(kept: Path, environment: dict[str, str]) -> dict[str, Any]:
    """The report of a process that upgrades the database which the environment names."""
    command = [sys.executable, "-m", "tests.upgrades.from_before", str(kept)]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    report: dict[str, Any] = json.loads(done.stdout)
    return report


def no_row_is_lost(report: dict[str, Any], manifest: dict[str, Any]) -> None:
    """As many as were kept before the migrations, and each of them the same after."""
    assert report["rows"] == manifest["rows"]
    assert report["lost"] == []
    for table, count in manifest["rows"].items():
        assert report["rows after"][RENAMED.get(table, table)] >= count, table


def every_face_says_what_it_said(report: dict[str, Any], manifest: dict[str, Any]) -> None:
    """Of each job and each shop, one by one, so that a difference names its place."""
    for part in ("jobs", "shops"):
        assert report[part].keys() == manifest[part].keys()
        for name, was in manifest[part].items():
            for about, told in was.items():
                assert report[part][name][about] == told, f"{name}: {about}"
    for name, job in report["jobs"].items():
        assert job["record"]["faults"] == [], name
    assert report["audit"] == manifest["audit"]
    assert report["audit"]["differences"] == []


def what_opened_opens(report: dict[str, Any], manifest: dict[str, Any]) -> None:
    """Links, tokens, calendars, passwords and second factors that were given out before."""
    assert report["opened"] == manifest["opened"]


def the_phone_loses_nothing(report: dict[str, Any], queue: dict[str, Any]) -> None:
    """Each that waited is answered no worse than the site answered it then, however often sent."""
    assert report["became"].keys() == {entry["id"] for entry in queue["queue"]}
    for entry_id, state in report["became"].items():
        was = queue["became"][entry_id]
        assert NO_WORSE[state] <= NO_WORSE[was], f"{entry_id} was {was} and is {state}"
    assert report["became again"] == report["became"]
    assert report["gone"] == []


def holds_to(report: dict[str, Any], kept: Path) -> None:
    """All of it."""
    manifest = folder.read_told(kept / folder.MANIFEST)
    queue = folder.read_told(kept / folder.PHONE)
    no_row_is_lost(report, manifest)
    every_face_says_what_it_said(report, manifest)
    what_opened_opens(report, manifest)
    the_phone_loses_nothing(report, queue)


def test_what_was_kept_is_found_and_more_can_be_kept() -> None:
    """The maker is not run by tests: it goes on to know the code it would be run with."""
    assert "before_rooms" in [path.name for path in KEPT]
    assert callable(everything)


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.name)
def test_what_sqlite_kept_is_upgraded_with_nothing_lost(kept, tmp_path) -> None:
    (tmp_path / "studbay.sqlite3").write_bytes(folder.read(kept / folder.SQLITE))
    folder.unpack_files(kept, tmp_path)
    holds_to(upgraded(kept, folder.surroundings(tmp_path)), kept)


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.name)
def test_what_postgresql_kept_is_upgraded_with_nothing_lost(kept, tmp_path) -> None:
    with folder.another_database(os.environ["DATABASE_URL"]) as url:
        folder.run_script(url, folder.read(kept / folder.POSTGRESQL))
        folder.unpack_files(kept, tmp_path)
        holds_to(upgraded(kept, folder.surroundings(tmp_path, url)), kept)

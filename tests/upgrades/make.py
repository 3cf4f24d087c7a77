"""Makes the databases that later code is upgraded from: `python -m tests.upgrades.make NAME`.

Before a migration that renames, moves or drops something, tag the commit before it, run this in a
checkout of that tag (`git worktree add ../at-the-tag TAG`) and commit the folder NAME that it
writes here. `test_from_before.py` upgrades every such folder from then on. A folder that is there
is not written again: what it is for is to stay as it was.

It makes the same shops twice, on SQLite and on PostgreSQL, by the services, the demo's scenario and
the stranger's rows, on a clock that stands still. Both databases are kept, with the files of
photographs, what a phone has still to send and what the site answered it (`phone.json.gz`), and
what both showed (`manifest.json.gz`): they must show the same, or nothing is kept. The keys that
sealed columns are sealed with are test keys, in `folder.py`.

The manifest has no name of a table but in its counts. It tells what people see by names of its own
(`faces.py`), so that it outlives renames; `renamed.py` is the one place that says what is called
otherwise since.
"""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import django

from tests.servers import postgresql, valkey
from tests.upgrades import folder


def made(var: Path, url: str = "", more: dict[str, str] | None = None) -> dict[str, Any]:
    """A process that makes a database in those surroundings; what it has to tell."""
    told = var / "told.json"
    command = [sys.executable, "-m", "tests.upgrades.make", "--here", str(told)]
    environment = folder.surroundings(var, url) | (more or {})
    subprocess.run(command, env=environment, check=True)
    report: dict[str, Any] = json.loads(told.read_text("utf-8"))
    return report


def keep(name: str) -> int:
    """Make both, compare what they show, and keep them; 1 when they differ."""
    target = folder.HERE / name
    target.mkdir()
    with tempfile.TemporaryDirectory() as var:
        on_sqlite = made(Path(var))
        folder.write(target / folder.SQLITE, Path(on_sqlite["database"]).read_bytes())
        (target / folder.FILES).write_bytes(Path(on_sqlite["files"]).read_bytes())
    with tempfile.TemporaryDirectory() as var, postgresql() as url, valkey() as broker:
        on_postgresql = made(Path(var), url, {"REDIS_URL": broker})
        folder.write(target / folder.POSTGRESQL, Path(on_postgresql["database"]).read_bytes())
    for part in ("manifest", "phone", "names of files"):
        if on_sqlite[part] != on_postgresql[part]:
            for kind, found in (("sqlite", on_sqlite), ("postgresql", on_postgresql)):
                (target / f"{part}-{kind}.json").write_text(json.dumps(found[part], indent=1))
            print(f"{target}: the two databases differ in {part}; compare what is written there")
            return 1
    folder.write_told(target / folder.MANIFEST, on_sqlite["manifest"])
    folder.write_told(target / folder.PHONE, on_sqlite["phone"])
    for path in sorted(target.iterdir()):
        print(f"{path.name:24}{path.stat().st_size:>10,}")
    return 0


def here(told: Path) -> None:
    """Make one in this process, whose environment says where."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
    django.setup()
    from tests.upgrades.kept import kept
    from tests.upgrades.scene.fixed import on_a_fixed_clock

    with on_a_fixed_clock() as clock:
        told.write_text(json.dumps(kept(clock, told.parent)), "utf-8")


if __name__ == "__main__":
    if sys.argv[1] == "--here":
        here(Path(sys.argv[2]))
    else:
        sys.exit(keep(sys.argv[1]))

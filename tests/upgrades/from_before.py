"""`python -m tests.upgrades.from_before FOLDER` upgrades the database that it is started on.

It is a kept one, put back. The report, in JSON: what it was before, which rows are lost, what it
shows, what was given out before and opens still, and what became of what a phone had kept.
"""

import json
import os
import sys
from io import StringIO
from pathlib import Path
from typing import Any

import django
import time_machine

from tests.upgrades import folder


def audited() -> dict[str, Any]:
    """What the audit command says: its exit code, how many states, and every difference."""
    from django.core.management import call_command

    said = StringIO()
    code = 0
    try:
        call_command("audit", json=True, stdout=said)
    except SystemExit as ended:
        code = ended.code
    *lines, counts = said.getvalue().splitlines()
    differences = []
    for line in lines:
        if json.loads(line)["sort"] == "difference":
            differences.append(line)
    states = json.loads(counts)["states"]
    return {"code": code, "states": states, "differences": differences}


def report(manifest: dict[str, Any], queue: dict[str, Any]) -> dict[str, Any]:
    """Upgrade, look, and let the phone send, twice as phones do."""
    from django.core.management import call_command

    from tests.upgrades import phone
    from tests.upgrades.faces import of_jobs
    from tests.upgrades.faces_of_shops import of_shops, opened
    from tests.upgrades.kept import counts, quiet
    from tests.upgrades.upgraded import carry, follow, lost, settle, tables

    quiet()
    found: dict[str, Any] = {"rows": counts()}
    before = tables()
    call_command("migrate", verbosity=0)
    found["lost"] = lost(before, tables())
    found["rows after"] = counts()
    settle()
    follow()
    carry()
    settle()
    found["jobs"] = of_jobs()
    found["shops"] = of_shops()
    found["audit"] = audited()
    found["opened"] = opened(manifest["secrets"])
    found["became"] = phone.send(queue)
    found["became again"] = phone.send(queue)
    found["gone"] = phone.gone(queue)
    return found


def main(kept: Path) -> None:
    """Set the site up on the clock of the kept database, then work with its models."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
    django.setup()
    manifest = folder.read_told(kept / folder.MANIFEST)
    queue = folder.read_told(kept / folder.PHONE)
    with time_machine.travel(manifest["made at"], tick=False):
        print(json.dumps(report(manifest, queue)))


if __name__ == "__main__":
    main(Path(sys.argv[1]))

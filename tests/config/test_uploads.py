"""Hostile uploads against the site in embedded mode; ten thousand with `make proof`.

No process above 400 MB, no fault of ours, nothing left on disc (OWASP ASVS 5.0, 5.2.1, 5.2.3).
"""

import json
import subprocess
import sys

import pytest

from tests.config.test_slow import ROOT


@pytest.mark.any_database
def test_no_upload_breaks_fills_or_swells_the_site(whole) -> None:
    count = "10000" if whole else "40"
    command = [sys.executable, "-m", "bench.uploads", count]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.stdout, done.stderr[-2000:]
    told = json.loads(done.stdout)
    print(done.stdout)
    assert told["faults"] == []
    assert told["left_on_disc"] == []
    assert max(told["largest_process_mb"].values()) <= 400
    assert told["uploads"] == int(count)
    assert told["answers"].get("302", 0) + told["answers"].get("201", 0) < int(count)

"""Figures of a drill, written down."""

import json
import os
import platform
from pathlib import Path
from typing import Any


def write_results(path: Path, figures: dict[str, Any]) -> None:
    """Write figures down with the machine they were measured on."""
    rounds = []
    for each in os.getloadavg():
        rounds.append(round(each, 1))
    about = {
        "machine": f"{platform.machine()}, {os.cpu_count()} cores",
        "load average": rounds,
        "python": platform.python_version(),
    }
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(figures | about, indent=1) + "\n")

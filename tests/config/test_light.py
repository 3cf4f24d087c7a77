"""What only a worker's few tasks need is in no process that answers people."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("ortools", "pandas", "numpy", "openpyxl", "ifcopenshell", "ezdxf")
"""The solver with what it brings, the reader of sheets, the readers of models."""
PROGRAM = (
    "import sys, django; django.setup(); import config.urls; "
    f"print(*[each for each in {HEAVY} if each in sys.modules])"
)


def test_a_process_that_answers_loads_no_solver_and_no_reader(tmp_path: Path) -> None:
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "config.settings",
        "STUDBAY_VAR": str(tmp_path),
    }
    for name in ("DATABASE_URL", "REDIS_URL"):
        environment.pop(name, None)
    made = subprocess.run(
        [sys.executable, "-c", PROGRAM], cwd=ROOT, env=environment, capture_output=True, text=True
    )
    assert made.returncode == 0, made.stderr
    assert made.stdout.split() == []

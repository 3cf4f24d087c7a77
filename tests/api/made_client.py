"""A Python client made from the published schema, as the README says."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
NAME = "studbay_client"


def make_client(folder: Path) -> None:
    """Write the package `studbay_client` into the folder; nothing of the schema may be left out."""
    tools = Path(sys.executable).parent
    command: list[str | Path] = [tools / "openapi-python-client", "generate", "--meta", "none"]
    command += ["--path", ROOT / "docs" / "openapi.yaml", "--output-path", folder / NAME]
    environment = os.environ | {"PATH": f"{tools}:{os.environ['PATH']}"}
    made = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
    assert made.returncode == 0, made.stdout + made.stderr
    assert "removal of" not in made.stdout, made.stdout

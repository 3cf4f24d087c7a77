"""Hold files under 400 lines and functions to a screen of 60: `python -m tests.shape`."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from tests import clock_uses

FILE_LINES, FUNCTION_LINES = 400, 60


def faults(path: Path) -> Iterator[str]:
    """What is too long in a file."""
    text = path.read_text("utf-8")
    if (lines := text.count("\n")) >= FILE_LINES:
        yield f"{path}: {lines} lines; part it"
    tree = ast.parse(text)
    yield from clock_uses.faults(path, tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            tall = node.end_lineno - node.lineno + 1
            if tall > FUNCTION_LINES:
                yield f"{path}:{node.lineno}: {node.name} has {tall} lines; part it"


def main() -> int:
    """Print every fault; 1 when there is one."""
    listing = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "*.py"],
        capture_output=True,
        text=True,
        check=True,
    )
    paths = [Path(name) for name in listing.stdout.split() if "/migrations/" not in name]
    found = [fault for path in paths if path.exists() for fault in faults(path)]
    print("\n".join(found) or f"{len(paths)} files, none too long")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())

"""Hold files under 400 lines, functions to a screen of 60, and Django's caches of rows in its own
hands: `python -m tests.shape`.
"""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from tests import clock_uses

FILE_LINES, FUNCTION_LINES = 400, 60
CACHES = {"_prefetch_done", "_prefetched_objects_cache", "_result_cache"}
"""A cache filled by hand is of a query that somebody else built. `job.areas` once was one of all
areas there are: what it was then filtered by ran over every shop. `prefetch_related_objects` builds
the query from its owner.
"""


def faults(path: Path) -> Iterator[str]:
    """What is too long in a file, and which cache it fills."""
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
    if path.parts[0] != "tests":
        yield from _caches(path, tree)


def _caches(path: Path, tree: ast.Module) -> Iterator[str]:
    """Every place that names a cache of Django's, as an attribute or as text for `setattr`."""
    for node in ast.walk(tree):
        named = ""
        if isinstance(node, ast.Attribute):
            named = node.attr
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            named = node.value
        if named in CACHES:
            yield f"{path}:{node.lineno}: {named} is Django's own; use prefetch_related_objects"


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
    print("\n".join(found) or f"{len(paths)} files, none too long, no cache filled by hand")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())

"""Hold files under 400 lines, functions to a screen of 60, public names to one definition,
Django's caches of rows in its own hands, and what is built out of git: `python -m tests.shape`.
"""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from tests import clock_uses, names_once

FILE_LINES, FUNCTION_LINES = 400, 60
CACHES = {"_prefetch_done", "_prefetched_objects_cache", "_result_cache"}
"""A cache filled by hand is of a query that somebody else built. `job.areas` once was one of all
areas there are: what it was then filtered by ran over every shop. `prefetch_related_objects` builds
the query from its owner.
"""
BUILT = ("*.mo", "docs/rules/")
"""Made from what is kept, wherever it is needed. In git it would be stale, or argued over twice."""


def faults(path: Path) -> Iterator[str]:
    """What is too long in a file, and which cache it fills."""
    text = path.read_text("utf-8")
    if (lines := text.count("\n")) >= FILE_LINES:
        yield f"{path}: {lines} lines; part it"
    tree = ast.parse(text)
    yield from clock_uses.faults(path, tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert node.end_lineno is not None, "it was read from text"
            tall = node.end_lineno - node.lineno + 1
            if tall > FUNCTION_LINES:
                yield f"{path}:{node.lineno}: {node.name} has {tall} lines; part it"
    if path.parts[0] != "tests":
        yield from _caches(path, tree)


def _caches(path: Path, tree: ast.Module) -> Iterator[str]:
    """Every place that names a cache of Django's, as an attribute or as text for `setattr`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            named = node.attr
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            named = node.value
        else:
            continue
        if named in CACHES:
            yield f"{path}:{node.lineno}: {named} is Django's own; use prefetch_related_objects"


def _kept(*patterns: str, others: bool = False) -> list[Path]:
    """What git keeps by these patterns; with others, what is new here besides."""
    command = ["git", "ls-files", "--cached"]
    if others:
        command += ["--others", "--exclude-standard"]
    listing = subprocess.run(
        [*command, "--", *patterns], capture_output=True, text=True, check=True
    )
    return [Path(name) for name in listing.stdout.splitlines()]


def _ours(paths: list[Path]) -> dict[Path, ast.Module]:
    """The files of the product, without what tests it and what measures it."""
    trees = {}
    for path in paths:
        if path.exists() and path.parts[0] not in ("tests", "bench"):
            trees[path] = ast.parse(path.read_text("utf-8"))
    return trees


def main() -> int:
    """Print every fault; 1 when there is one."""
    paths = [path for path in _kept("*.py", others=True) if "migrations" not in path.parts]
    found = [fault for path in paths if path.exists() for fault in faults(path)]
    found.extend(names_once.twice(_ours(paths)))
    for path in _kept(*BUILT):
        found.append(f"{path}: it is built, and git keeps it; run git rm --cached {path}")
    print("\n".join(found) or f"{len(paths)} files, none too long, no cache filled by hand")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())

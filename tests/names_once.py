"""Hold each public name to one definition in the tree; `tests.shape` runs it.

A name that stands for two things has to be looked up each time it is met. Names that a framework
or a registry gives, one to a module, are spared.
"""

import ast
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

SPARED = {
    "main": "the beginning of each program",
    "Command": "Django's name for a command of manage.py",
    "tell": "each rule's own words, registered with the rule",
}


def twice(trees: Mapping[Path, ast.Module]) -> Iterator[str]:
    """Every public function or class at the top of two modules, with where it stands."""
    places: defaultdict[str, list[Path]] = defaultdict(list)
    for path, tree in trees.items():
        for node in tree.body:
            if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                continue
            if node.name.startswith("_") or node.name in SPARED:
                continue
            if path not in places[node.name]:  # overloads stand in one module
                places[node.name].append(path)
    for name, paths in sorted(places.items()):
        if len(paths) > 1:
            where = ", ".join(map(str, paths))
            yield f"{name} is defined in {where}; let each say what it is"

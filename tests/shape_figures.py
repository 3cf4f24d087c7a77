"""Measure the shape of the code: `python -m tests.shape_figures [--write | --check]`.

Prints every measure; with --write keeps them in docs/shape.md beside what they were; with --check
says which goal is missed, and ends with 1 when one is.

What is counted, of every file but tests and migrations:

- complexity by McCabe's count (1976) with boolean operators and comprehensions, as radon has it:
  functions over 10, in percent;
- conditional expressions, comprehensions (with `map`, `filter` and `lambda`) and assignments of
  several names at once, for each 1,000 lines that are not empty;
- lengths of files and functions, in lines;
- modules at the top of each package, cycles of imports (imports for type checking too), and the
  longest chain of imports.
"""

import ast
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from statistics import median, quantiles

import grimp
import networkx
from radon.complexity import cc_visit
from radon.visitors import Class

PACKAGES = ("config", "jobs", "inspections", "notifications", "audit", "api", "pages")
TOPS = ("inspections", "inspections/checker", "pages")
MOST_COMPLEX = 10
PAGE = Path("docs/shape.md")
ROWS = "| measure | before | now | goal |\n| --- | ---: | ---: | ---: |\n"
BEFORE = {
    "files": 683,
    "lines": 64_482,
    "median file": 75,
    "longest file": 383,
    "functions": 3858,
    "median function": 7,
    "nine in ten functions at most": 20,
    "complexity over 10, percent": 5.9,
    "parallel assignments per 1,000 lines": 11.6,
    "comprehensions per 1,000 lines": 51.7,
    "conditional expressions per 1,000 lines": 23.7,
    "modules at the top of inspections/": 37,
    "modules at the top of inspections/checker/": 40,
    "modules at the top of pages/": 40,
    "modules in cycles": 0,
    "longest chain of imports": 31,
}
"""In November 2026, before the rooms were made and the density taken out."""
GOALS = {
    "median file": 100,
    "longest file": 400,
    "median function": 10,
    "nine in ten functions at most": 30,
    "complexity over 10, percent": 2.5,
    "comprehensions per 1,000 lines": 15,
    "conditional expressions per 1,000 lines": 7,
    "modules at the top of inspections/": 7,
    "modules at the top of inspections/checker/": 14,
    "modules at the top of pages/": 14,
    "modules in cycles": 0,
    "longest chain of imports": 20,
}
"""The most that each may be. Five codebases that are held up as models have 1.6 to 3.7 percent of
functions over 10, 2 to 7 conditional expressions and 2 to 11 comprehensions for 1,000 lines.
"""


def files() -> list[Path]:
    """Every file of code that is neither a test nor a migration."""
    listing = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "*.py"],
        capture_output=True,
        text=True,
        check=True,
    )
    paths = map(Path, listing.stdout.split())
    return [
        path
        for path in paths
        if path.exists() and path.parts[0] != "tests" and "migrations" not in path.parts
    ]


def _functions(tree: ast.Module) -> Iterator[int]:
    """The length of each function, its decorators left out."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert node.end_lineno is not None, "it was read from text"
            yield node.end_lineno - node.lineno + 1


COMPREHENSIONS = ast.ListComp | ast.SetComp | ast.DictComp | ast.GeneratorExp | ast.Lambda


def _dense(tree: ast.Module) -> Iterator[str]:
    """The name of each dense construct, once for each time it stands there."""
    for node in ast.walk(tree):
        if isinstance(node, ast.IfExp):
            yield "conditional expressions"
        elif isinstance(node, COMPREHENSIONS) or _maps(node):
            yield "comprehensions"
        elif isinstance(node, ast.Assign) and _assigns_several(node):
            yield "parallel assignments"


def _maps(node: ast.AST) -> bool:
    """Whether it is a call of `map` or `filter`, which are comprehensions by another name."""
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
        return False
    return node.func.id in {"map", "filter"}


def _assigns_several(node: ast.Assign) -> bool:
    """Whether several values are written out for several names."""
    return isinstance(node.value, ast.Tuple) and isinstance(node.targets[0], ast.Tuple)


def _complex(text: str) -> Iterator[int]:
    """The complexity of each function and method."""
    for block in cc_visit(text):
        methods = block.methods if isinstance(block, Class) else [block]
        yield from (method.complexity for method in methods)


def _imports() -> tuple[int, int]:
    """How many modules stand in cycles, and the longest chain of imports without them."""
    graph = grimp.build_graph(*PACKAGES)
    edges = networkx.DiGraph()
    for module in graph.modules:
        for other in graph.find_modules_directly_imported_by(module):
            edges.add_edge(module, other)
    knots = [knot for knot in networkx.strongly_connected_components(edges) if len(knot) > 1]
    chain = networkx.dag_longest_path_length(networkx.condensation(edges))
    return sum(map(len, knots)), chain


def figures() -> dict[str, float]:
    """Every measure by its name."""
    paths = files()
    lengths: list[int] = []
    functions: list[int] = []
    complexities: list[int] = []
    dense: Counter[str] = Counter()
    lines = 0
    for path in paths:
        text = path.read_text("utf-8")
        tree = ast.parse(text)
        lengths.append(text.count("\n"))
        lines += sum(1 for line in text.splitlines() if line.strip())
        functions.extend(_functions(tree))
        dense.update(_dense(tree))
        complexities.extend(_complex(text))
    cycles, chain = _imports()
    knotty = sum(1 for found in complexities if found > MOST_COMPLEX)
    tops = {
        f"modules at the top of {top}/": sum(1 for path in paths if str(path.parent) == top)
        for top in TOPS
    }
    full = [length for length in lengths if length]
    return {
        "files": len(paths),
        "lines": sum(lengths),
        "median file": median(full),
        "longest file": max(lengths),
        "functions": len(functions),
        "median function": median(functions),
        "nine in ten functions at most": quantiles(functions, n=10)[-1],
        "complexity over 10, percent": round(100 * knotty / len(complexities), 1),
        **{f"{name} per 1,000 lines": round(1000 * n / lines, 1) for name, n in dense.items()},
        **tops,
        "modules in cycles": cycles,
        "longest chain of imports": chain,
    }


def missed(now: dict[str, float]) -> list[str]:
    """The goals that are missed."""
    faults = []
    for name, most in GOALS.items():
        if now[name] > most:
            faults.append(f"{name}: {now[name]}, at most {most}")
    return faults


def table(now: dict[str, float]) -> str:
    """Every measure as a row: before, now, goal."""
    rows = ROWS
    for name, value in now.items():
        rows += f"| {name} | {BEFORE[name]:,} | {value:,} | {GOALS.get(name, '')} |\n"
    return rows


def main() -> int:
    """Print every measure; 1 when a goal is missed that was reached."""
    now = figures()
    for name, value in now.items():
        print(f"{name:48}{value:>10}")
    if "--write" in sys.argv:
        before, _, old = PAGE.read_text("utf-8").partition(ROWS)
        words = old[old.index("\n## ") :]
        PAGE.write_text(before + table(now) + words, "utf-8")
    if "--check" not in sys.argv:
        return 0
    faults = missed(now)
    print("\n".join(faults) or "the code has the shape that is held")
    return bool(faults)


if __name__ == "__main__":
    sys.exit(main())

"""Hold that every name that is imported from the project is there: `python -m tests.imports_hold`.

Ours are read by their text, so that it takes seconds: tests, what is imported within functions, and
programs that stand in strings and are handed to another process, which no checker of types reads.
"""

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OURS = {"api", "audit", "bench", "config", "inspections", "jobs", "notifications", "pages", "tests"}


def files() -> list[Path]:
    """Every file of Python that git knows."""
    told = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard", "*.py"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        text=True,
    )
    return [ROOT / name for name in told.stdout.split("\0") if name and (ROOT / name).exists()]


@cache
def defined(module: str) -> frozenset[str] | None:
    """The names at the top of a module of ours and the modules beneath it; None: no module."""
    base = ROOT / module.replace(".", "/")
    path = base / "__init__.py" if base.is_dir() else base.with_suffix(".py")
    beneath = {each.stem for each in base.glob("*.py")} | {
        each.name for each in base.glob("*/") if any(each.glob("*.py"))
    }
    if not path.exists():
        return frozenset(beneath) if base.is_dir() else None
    return frozenset(beneath | set(names(ast.parse(path.read_text("utf-8")).body)))


def names(body: list[ast.stmt]) -> Iterator[str]:
    """What statements at the top of a module bind; `*` where they import all of another."""
    for each in body:
        if isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield each.name
        elif isinstance(each, ast.Import | ast.ImportFrom):
            for name in each.names:
                yield (name.asname or name.name).split(".")[0]
        elif isinstance(each, ast.If | ast.Try | ast.With | ast.For):
            for part in ("body", "orelse", "finalbody"):
                yield from names(getattr(each, part, []))
        else:
            for node in ast.walk(each):
                if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                    yield node.id


def faults(tree: ast.AST, package: str) -> Iterator[str]:
    """The imports from ours that find nothing, in code and in programs that it holds as text."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            module = node.module or ""
            if node.level:
                parts = package.split(".")
                above = parts[: len(parts) - node.level + 1]
                module = ".".join([*above, *([module] if module else [])])
            if module.split(".")[0] in OURS:
                yield from _missing(module, [name.name for name in node.names])
        elif isinstance(node, ast.Import):
            for name in node.names:
                if name.name.split(".")[0] in OURS and defined(name.name) is None:
                    yield f"there is no {name.name}"
        elif isinstance(node, ast.Constant) and (program := _program(node.value)):
            yield from faults(program, "")


def _program(text: object) -> ast.AST | None:
    if not isinstance(text, str) or "import " not in text:
        return None
    try:
        return ast.parse(text)
    except (SyntaxError, ValueError):
        return None


def _missing(module: str, wanted: list[str]) -> Iterator[str]:
    there = defined(module)
    if there is None:
        yield f"there is no {module}"
    elif "*" not in there:
        for name in wanted:
            if name not in there and not name.startswith(("*", "__")):
                yield f"{module} has no {name}"


def main() -> int:
    """Print what finds nothing; 1 when there is any."""
    told = []
    for path in files():
        where = path.relative_to(ROOT)
        package = ".".join(where.parent.parts)
        for fault in faults(ast.parse(path.read_text("utf-8")), package):
            told.append(f"{where}: {fault}")
    print("\n".join(told) or "every name that is imported from the project is there")
    return int(bool(told))


if __name__ == "__main__":
    sys.exit(main())

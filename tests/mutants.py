"""Mutation testing over the checker: `python -m tests.mutants --sample 200`.

Cosmic Ray makes the mutants: one operator, constant or condition otherwise, one at a time. Each
is tried in a copy of the project, first on the cases, then on the tests of the checker with few
examples a property; it is killed when one of them fails. A survivor is a line that no test holds,
unless docs/mutants.md gives a reason why it changes nothing that anybody could notice.
"""

import argparse
import os
import random
import resource
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import django.test
import hypothesis
import pydantic
import pytest
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator

READY = (django.test, hypothesis, pydantic)
"""Imported once, before the process that tries a mutant parts from this one."""
ROOT = Path(__file__).resolve().parent.parent
CHECKER = "inspections/checker"
GOAL = 0.9
LONGEST = 240  # seconds of work; a mutant that takes more is killed by that
OPERATORS = (
    *("ReplaceComparisonOperator_Lt_LtE", "ReplaceComparisonOperator_Lt_GtE"),
    *("ReplaceComparisonOperator_LtE_Lt", "ReplaceComparisonOperator_LtE_Gt"),
    *("ReplaceComparisonOperator_Gt_GtE", "ReplaceComparisonOperator_Gt_LtE"),
    *("ReplaceComparisonOperator_GtE_Gt", "ReplaceComparisonOperator_GtE_Lt"),
    *("ReplaceComparisonOperator_Eq_NotEq", "ReplaceComparisonOperator_NotEq_Eq"),
    *("ReplaceComparisonOperator_Is_IsNot", "ReplaceComparisonOperator_IsNot_Is"),
    *("ReplaceBinaryOperator_Add_Sub", "ReplaceBinaryOperator_Sub_Add"),
    *("ReplaceBinaryOperator_Mul_Div", "ReplaceBinaryOperator_Div_Mul"),
    *("ReplaceBinaryOperator_FloorDiv_Mul", "ReplaceBinaryOperator_Mod_Mul"),
    *("ReplaceUnaryOperator_USub_UAdd", "ReplaceUnaryOperator_Delete_Not"),
    *("AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr"),
    *("ReplaceOrWithAnd", "ReplaceBreakWithContinue", "ReplaceContinueWithBreak"),
    *("NumberReplacer", "ZeroIterationForLoop"),
)
"""Those whose mutants a person could have written; of each the ones that are not alike."""
EXAMPLES = "10"
"""Of each property; the cases find what these do not."""
SLOW = (
    "_properties",
    "test_rechecking",
    "test_fuzz",
    "test_figures_held",
    "test_cases",
    "test_told",
)
"""Tests that take long and find hardly a mutant that cases and the others do not."""
ALSO = {
    "/load/": "tests/load",
    "/house/": "tests/load",
    "/workbook/": "tests/workbook",
    "/propose/": "tests/propose",
    "/rechecking": "tests/checker/test_rechecking.py",
    "/manual": "tests/inspections/test_rule_commands.py",
}
"""Tests beside those of the checker that hold a part of it."""
OURS = ("tests", "inspections", "config", "jobs", "notifications", "audit", "api", "pages")


class Mutant(NamedTuple):
    """One change to one file."""

    path: str
    operator: str
    occurrence: int

    def text(self) -> str:
        """The whole file as changed."""
        source = (ROOT / self.path).read_text("utf-8")
        changed: str | None = mutate_code(source, operator(self.operator), self.occurrence)
        assert changed is not None
        return changed

    @property
    def name(self) -> str:
        """What it does, in one line that stays the same when lines above it come or go."""
        pairs = zip(
            (ROOT / self.path).read_text("utf-8").splitlines(),
            self.text().splitlines(),
            strict=False,
        )
        was, now = next(pair for pair in pairs if pair[0] != pair[1])
        return f"{self.path} {self.operator}: `{was.strip()}` to `{now.strip()}`"


def operator(name: str) -> Operator:
    """Cosmic Ray's operator of that name."""
    return get_operator(f"core/{name}")()


def mutants(path: str) -> Iterator[Mutant]:
    """Every mutant of a file."""
    nodes = list(ast_nodes(get_ast((ROOT / path).read_text("utf-8"))))
    for name in OPERATORS:
        one = operator(name)
        places = sum(len(list(one.mutation_positions(node))) for node in nodes)
        yield from (Mutant(path, name, occurrence) for occurrence in range(places))


class Copy:
    """A copy of the project in which mutants are tried."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        names = shutil.ignore_patterns(".git", ".venv", "var", "__pycache__", "node_modules")
        shutil.copytree(ROOT, folder, ignore=names, dirs_exist_ok=True)
        (folder / ".venv").symlink_to(ROOT / ".venv")

    def kills(self, mutant: Mutant) -> bool:
        """Whether a case or a test fails with the mutant in place."""
        path = self.folder / mutant.path
        plain = path.read_text("utf-8")
        for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
            compiled.unlink()
        path.write_text(mutant.text(), "utf-8")
        try:
            return not self.sound(mutant.path, keep=False)
        finally:
            path.write_text(plain, "utf-8")

    def sound(self, path: str = "", *, keep: bool = True) -> bool:
        """Whether everything passes, in a process of its own that starts with what is imported."""
        child = os.fork()
        if child == 0:
            code = 1
            try:
                self._enter(keep)
                code = int(not (_cases(Path(path).stem) and self._tests(path)))
            finally:
                os._exit(code)
        return os.waitpid(child, 0)[1] == 0

    def _enter(self, keep: bool) -> None:
        """Become a process that sees the copy and no other project."""
        resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST))
        os.environ["TEST_EXAMPLES"] = EXAMPLES
        os.chdir(self.folder)
        sys.path.insert(0, str(self.folder))
        sys.dont_write_bytecode = not keep
        for name in [name for name in sys.modules if name.partition(".")[0] in OURS]:
            del sys.modules[name]
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)

    def _tests(self, path: str) -> bool:
        files = [
            str(each)
            for each in sorted((self.folder / "tests" / "checker").glob("test_*.py"))
            if not any(word in each.name for word in SLOW)
        ]
        files += [tests for part, tests in ALSO.items() if part in path]
        return pytest.main(["-q", "-x", "-p", "no:cacheprovider", *files]) == 0


def _cases(stem: str) -> bool:
    """Whether every case passes and says what it said, those of the changed rule first."""
    from tests.checker import told
    from tests.checker.build import cases
    from tests.checker.run_cases import outcomes

    for name in dict.fromkeys((stem.replace("_", "-") or "*", "*")):
        if any(outcome.faults for outcome in outcomes(cases(name))) or told.stale(name):
            return False
    return True


def files(chosen: list[str]) -> list[str]:
    """The checker's files, or those whose path has one of the words."""
    found = sorted(str(p.relative_to(ROOT)) for p in (ROOT / CHECKER).rglob("*.py"))
    return [name for name in found if not chosen or any(word in name for word in chosen)]


def excused(*folders: str) -> set[str]:
    """The survivors there that docs/mutants.md gives a reason for, each in the line below it."""
    lines = (ROOT / "docs" / "mutants.md").read_text("utf-8").splitlines()
    named = [line.removeprefix("- ") for line in lines if line.startswith("- ")]
    return {name for name in named if name.startswith(folders)}


def main() -> int:
    """Try the mutants; 1 when fewer than the goal are killed, 2 when the tests fail as they are."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("only", nargs="*", help="words in the paths of the files to change")
    parser.add_argument("--sample", type=int, help="so many mutants, drawn by chance")
    parser.add_argument("--seed", type=int, default=1, help="which sample")
    parser.add_argument("--minutes", type=float, help="stop after so long")
    options = parser.parse_args()
    every = [mutant for name in files(options.only) for mutant in mutants(name)]
    chosen = random.Random(options.seed).sample(
        every, min(options.sample or len(every), len(every))
    )
    print(f"{len(every)} mutants, {len(chosen)} of them tried", flush=True)
    start, known, tried, killed = time.monotonic(), excused(CHECKER), 0, 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Copy(Path(folder) / "studbay")
        if not copy.sound():
            print("the tests fail without any mutant; correct that first")
            return 2
        for mutant in chosen:
            if options.minutes and time.monotonic() - start > 60 * options.minutes:
                break
            tried += 1
            if copy.kills(mutant):
                killed += 1
            else:
                reason = ", for a reason that is given" if mutant.name in known else ""
                print(f"- {mutant.name}\n  survives{reason}", flush=True)
    share = killed / tried if tried else 1.0
    print(f"{killed} of {tried} killed, {share:.1%}; the goal is {GOAL:.0%}")
    return int(share < GOAL)


if __name__ == "__main__":
    sys.exit(main())

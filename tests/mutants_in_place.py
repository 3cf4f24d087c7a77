"""Mutation testing over what decides and writes: `python -m tests.mutants_in_place --sample 200`.

The mutants are those of `tests.mutants`, in services and standing. The tests run once, and it is
noted which of them call which function. Then each mutant is put into the functions that are loaded,
in a process that parts from the one in which database and modules are ready, and the tests that
call the function run there for so long as LONGEST: half the time those that call the fewest others,
then those that call the most. It is killed when one of them fails. What is decided while modules
load (classes, defaults) is not tried, nor what docs/mutants.md gives a reason for.
"""

import argparse
import ast
import gc
import os
import random
import resource
import sys
import threading
import time
from collections.abc import Iterator
from types import CodeType, FrameType, FunctionType

import pytest

from tests.mutants import ROOT, Mutant, excused, mutants

CHANGED = ("inspections/services", "inspections/standing")
TESTS = (
    *("tests/inspections", "tests/pages/jobs", "tests/test_age.py"),
    *("tests/pages/open", "tests/languages/test_refusals.py"),
    *("tests/languages/test_service_refusals.py", "tests/test_constraints.py"),
)
"""Those of the folders that mirror the code, and those that pay: links are tried where they are
opened, and refusals and rows in half a minute more. `tests/test_stored.py` takes a minute for one
test, and those of notices, days and the API call services by way of what they are about."""
GOAL = 0.85
LONGEST = 60.0
"""Seconds of tests for a mutant, by the work they took without one: of the processor, since what a
busy machine does besides would leave fewer tests to a mutant."""
BROKEN = 3
"""The exit code of a process that could not try its mutant."""
TOO_LONG = 20.0
"""Seconds; a test that takes more is not tried on mutants."""
FUNCTION = 3
"""The flags of the code of a function; that of a class body has neither."""


def functions_in(code: CodeType) -> Iterator[CodeType]:
    """The code of each function that is not within another one."""
    for each in code.co_consts:
        if isinstance(each, CodeType):
            if each.co_flags & FUNCTION:
                yield each
            else:
                yield from functions_in(each)


def changes(mutant: Mutant) -> list[tuple[CodeType, CodeType]]:
    """The code of each function that the mutant changes, as it is and as it becomes."""
    path = ROOT / mutant.path
    pairs = zip(
        functions_in(compile(path.read_text("utf-8"), str(path), "exec")),
        functions_in(compile(mutant.text(), str(path), "exec")),
        strict=True,
    )
    return [(was, now) for was, now in pairs if was != now]


def put_in(found: list[tuple[CodeType, CodeType]]) -> bool:
    """Exchange the code of the functions that are loaded; whether any was found."""
    from jobs.prepared_queries import Prepared

    put = False
    for each in gc.get_objects():
        # By its type alone: a proxy of something that is gone raises when asked for its class.
        if type(each) is FunctionType:
            for was, now in found:
                if each.__code__ == was:
                    each.__code__ = now
                    put = True
        elif type(each) is Prepared:
            each._plans.clear()
    return put


class Trial:
    """What pytest calls: the pass that notes who calls what, and then the mutants."""

    def __init__(self, sample: list[Mutant], at_once: int) -> None:
        self.sample, self.at_once = sample, at_once
        self.called: dict[pytest.Item, set[CodeType]] = {}
        self.took: dict[pytest.Item, float] = {}
        self.failed = False
        self.killed = 0
        self.lived: list[Mutant] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Remember that something failed."""
        self.failed |= report.failed

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Instead of the usual loop."""
        for item, then in self._in_turn(session.items, session):
            self._note(item, then)
            if self.failed:
                print(f"left out, since it fails without any mutant: {item.nodeid}", flush=True)
                self.called.pop(item, None)
                self.failed = False
        self._try_all(session)
        return True

    @staticmethod
    def _in_turn(
        items: list[pytest.Item], session: pytest.Session
    ) -> list[tuple[pytest.Item, pytest.Item | pytest.Session]]:
        """Each with what comes after it; after the last the session alone, which stays set up."""
        after: list[pytest.Item | pytest.Session] = [*items, session]
        return list(zip(items, after[1:], strict=True))

    def _note(self, item: pytest.Item, then: pytest.Item | pytest.Session) -> None:
        codes: set[CodeType] = set()
        wanted = tuple(str(ROOT / each) for each in CHANGED)

        def trace(frame: FrameType, _event: str, _arg: object) -> None:
            if frame.f_code.co_filename.startswith(wanted):
                codes.add(frame.f_code)

        began, worked = time.perf_counter(), time.process_time()
        threading.settrace(trace)
        sys.settrace(trace)
        try:
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=then)
        finally:
            sys.settrace(None)
            threading.settrace(None)
        self.took[item] = time.process_time() - worked
        if codes and time.perf_counter() - began <= TOO_LONG:
            self.called[item] = codes

    def _try_all(self, session: pytest.Session) -> None:
        running: dict[int, Mutant] = {}
        for mutant in self.sample:
            found = changes(mutant)
            if len(running) == self.at_once:
                self._end_one(running)
            child = os.fork()
            if child == 0:
                try:
                    self._try_one(found, session)
                finally:
                    os._exit(BROKEN)
            running[child] = mutant
        while running:
            self._end_one(running)

    def _end_one(self, running: dict[int, Mutant]) -> None:
        child, status = os.wait()
        mutant = running.pop(child)
        if os.waitstatus_to_exitcode(status) == BROKEN:
            raise RuntimeError(f"could not be tried: {mutant.name}")
        if status == 0:
            self.lived.append(mutant)
            print(f"- {mutant.name}", flush=True)
        else:
            self.killed += 1

    def _try_one(self, found: list[tuple[CodeType, CodeType]], session: pytest.Session) -> None:
        """In a process of its own, which ends with 0 when the mutant lives."""
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        resource.setrlimit(resource.RLIMIT_CPU, (int(3 * LONGEST), int(3 * LONGEST)))
        items = self._chosen({was for was, _ in found})
        if put_in(found):
            for item, then in self._in_turn(items, session):
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=then)
                if self.failed:
                    os._exit(1)
        os._exit(0)

    def _chosen(self, codes: set[CodeType]) -> list[pytest.Item]:
        """The tests that call one of them: the most particular first, then the broadest.

        What every test calls would else be tried by those alone that hardly look at what it gives.
        """
        able = [item for item, called in self.called.items() if called & codes]
        able.sort(key=lambda item: len(self.called[item]))
        chosen = self._while_there_is_time(able)
        left = [item for item in reversed(able) if item not in chosen]
        return chosen + self._while_there_is_time(left)

    def _while_there_is_time(self, items: list[pytest.Item]) -> list[pytest.Item]:
        """As many as take half of LONGEST, and one at least."""
        chosen: list[pytest.Item] = []
        left = LONGEST / 2
        for item in items:
            left -= self.took[item]
            if left < 0 and chosen:
                break
            chosen.append(item)
        return chosen


def drawn(only: list[str], most: int, seed: int) -> list[Mutant]:
    """So many mutants of functions in files whose path has one of the words; 0: all."""
    every: list[Mutant] = []
    for folder in CHANGED:
        for path in sorted((ROOT / folder).rglob("*.py")):
            name = str(path.relative_to(ROOT))
            if not only or any(word in name for word in only):
                every += mutants(name)
    random.Random(seed).shuffle(every)
    sample: list[Mutant] = []
    for mutant in every:
        if most and len(sample) == most:
            break
        if _is_program(mutant) and changes(mutant):
            sample.append(mutant)
    return sample


def _is_program(mutant: Mutant) -> bool:
    """Whether Python takes it, and an operator was one.

    `not` before an assignment within an expression is no program; the `*` of a signature, which
    says that what follows is given by name, is no multiplication.
    """
    try:
        now = ast.parse(mutant.text())
    except SyntaxError:
        return False
    if mutant.operator != "ReplaceBinaryOperator_Mul_Div":
        return True
    return _products(now) < _products(ast.parse((ROOT / mutant.path).read_text("utf-8")))


def _products(tree: ast.Module) -> int:
    """How often something is multiplied."""
    return sum(isinstance(node, ast.Mult) for node in ast.walk(tree))


def main() -> int:
    """Try the mutants; 1 when fewer than the goal are killed, 2 when none was tried."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("only", nargs="*", help="words in the paths of the files to change")
    parser.add_argument("--sample", type=int, default=200, help="so many, drawn by chance; 0: all")
    parser.add_argument("--seed", type=int, default=1, help="which sample")
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--tests", nargs="+", default=TESTS, help="instead of all that hold them")
    options = parser.parse_args()
    sample = drawn(options.only, options.sample, options.seed)
    known = excused(*CHANGED)
    alike = [mutant for mutant in sample if mutant.name in known]
    sample = [mutant for mutant in sample if mutant not in alike]
    print(f"{len(sample)} mutants are tried; alike, for a reason: {len(alike)}", flush=True)
    trial = Trial(sample, options.at_once)
    marks = "not browser and not postgresql and not nginx"
    told = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-m", marks, *options.tests]
    pytest.main(told, plugins=[trial])
    tried = trial.killed + len(trial.lived)
    if not tried:
        return 2
    share = trial.killed / tried
    print(f"{trial.killed} of {tried} killed, {share:.1%}; the goal is {GOAL:.0%}")
    return int(share < GOAL)


if __name__ == "__main__":
    sys.exit(main())

"""Every case that stands as data, one line each: `python -m tests.checker.run_cases`.

The cases go the way of a user's file: bytes to the loader, the house to the check. A case that
disputes its source is kept, and passes as long as the checker differs from that source.
"""

import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from importlib import import_module
from importlib.util import find_spec

from tests.checker.build import Case, cases

FURTHER = ("tests.loads.run_cases",)
"""Modules with cases of other computations: each has `outcomes()`, which yields `Outcome`."""


@dataclass(frozen=True)
class Outcome:
    """What came of one case."""

    codes: Sequence[str]
    section: str
    known: str
    title: str
    source: str = ""
    disputed: str = ""
    faults: list[str] = field(default_factory=list)

    @property
    def line(self) -> str:
        """The case in one line, with what differs when it fails."""
        where = f"{self.known}: {self.source}" if self.source else self.known
        said = "; ".join(self.faults) or (f"disputed, {self.disputed}" if self.disputed else "")
        ends = ("FAIL" if self.faults else "pass") + (f" ({said})" if said else "")
        return f"{'+'.join(self.codes):<8} {self.section}: {self.title} [{where}] {ends}"

    @property
    def published(self) -> str:
        """The source without our remark on it; empty when there is none."""
        return self.source.partition(";")[0].strip()


def outcome(case: Case) -> Outcome:
    """The case by every rulebook that it names."""
    faults = [f"{book}: {fault}" for book in case.rulebooks for fault in case.faults(book)]
    return Outcome(
        case.codes, case.section, case.known, case.title, case.source, case.disputed, faults
    )


def outcomes(chosen: Iterable[Case] | None = None) -> Iterator[Outcome]:
    """What comes of each case of the checker, and of the further modules there are."""
    for case in cases() if chosen is None else chosen:
        yield outcome(case)
    if chosen is None:
        for name in FURTHER:
            if find_spec(name.rpartition(".")[0]) and find_spec(name):
                yield from import_module(name).outcomes()


def report(found: Iterable[Outcome]) -> Iterator[str]:
    """A line for each case, then the counts."""
    met: list[Outcome] = []
    for each in found:
        met.append(each)
        yield each.line
    failed = sum(bool(each.faults) for each in met)
    codes = Counter(code for each in met for code in each.codes)
    known = Counter(each.known for each in met)
    sources = {each.published for each in met if each.published}
    yield ""
    yield f"{len(met)} cases: " + ", ".join(f"{code} {codes[code]}" for code in sorted(codes))
    yield "known by: " + ", ".join(f"{way} {count}" for way, count in known.most_common())
    yield f"{len(sources)} distinct sources, {sum(bool(e.disputed) for e in met)} cases disputed"
    yield f"{len(met) - failed} passed, {failed} failed"


def main() -> int:
    """Print the report; 1 when a case fails."""
    last = ""
    for last in report(outcomes()):
        print(last)
    return int(not last.endswith(" 0 failed"))


if __name__ == "__main__":
    sys.exit(main())

"""What the findings of every case say, kept as text: `python -m tests.checker.told` writes it.

The files stand beside the cases, so that a change of wording or working shows in review and no
line of it changes unseen. `make told` writes them again.
"""

import sys
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.finding import Finding
from tests.checker.build import Case, cases, findings

FOLDER = Path(__file__).parent / "told"


def texts(rule: str = "*") -> Iterator[tuple[str, str]]:
    """The text of each file of cases, by its name."""
    for name, group in groupby(cases(rule), key=lambda case: case.file):
        yield name, "\n".join(line for case in group for line in _case(case)) + "\n"


def _case(case: Case) -> Iterator[str]:
    yield f"# {case.title}"
    for code in case.codes:
        book = max(name for name in case.rulebooks if name.startswith(code.lower()))
        found = findings(case.loaded, book, case.amended(book))
        for key in case.expect:
            if key in found:
                yield from _finding(book, key, found[key])
    yield ""


def _finding(book: str, key: str, finding: Finding) -> Iterator[str]:
    words, reader = finding.words, METRIC
    if finding.code == "NEC":
        reader = ENGLISH
    yield f"{key} by {book}: {finding.verdict.value}, {finding.section}, {finding.known}"
    yield f"  at {said(finding.spot.text, reader)}"
    figures = f"{said(words.figure, reader)} / {said(words.limit, reader)}"
    yield f"  {said(words.says, reader)} [{figures}]"
    for line in words.working:
        yield f"  - {said(line, reader)}"
    if words.remedy:
        yield f"  > {said(words.remedy, reader)}"


def stale(rule: str = "*") -> list[str]:
    """The files that are not what the cases say now."""
    now = dict(texts(rule))
    kept = {path.stem: path.read_text("utf-8") for path in FOLDER.glob(f"{rule}.txt")}
    return sorted(name for name in {*now, *kept} if now.get(name) != kept.get(name))


def main() -> int:
    """Write every file, and take out those without cases; with --check, 1 when one is stale."""
    if "--check" in sys.argv:
        wanting = stale()
        print(f"not current: {', '.join(wanting)}; run `make told`" if wanting else "told: current")
        return int(bool(wanting))
    FOLDER.mkdir(exist_ok=True)
    now = dict(texts())
    for path in FOLDER.glob("*.txt"):
        if path.stem not in now:
            path.unlink()
    for name, text in now.items():
        (FOLDER / f"{name}.txt").write_text(text, "utf-8")
    print(f"what {len(now)} files of cases say is in {FOLDER}")
    return 0


if __name__ == "__main__":
    sys.exit(main())

"""The clock of a run of tests: `pytest --clock NAME`; `python -m tests.clocks` runs under each.

Every run has a clock of its own, so that no test depends on the day on which it is run: the tests
themselves, the product, its libraries, and every Python process that a test starts are told that
time. It goes on from there. A test marked `every_clock` runs under some of CLOCKS, or each.
"""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.utils import timezone

HOUSE = ZoneInfo("America/Edmonton")
ORDINARY = "monday"
CLOCKS = {
    "monday": "2026-03-16T10:00:00-06:00",
    "wednesday-just-begun": "2026-07-01T00:00:20-06:00",  # a holiday; Wednesday in the house alone
    "friday-evening": "2026-10-09T18:30:00-06:00",  # Saturday in UTC; a long weekend begins
    "saturday-late": "2026-05-16T23:40:00-06:00",
    "an-hour-left-out": "2026-03-08T01:59:40-07:00",  # Sunday; the clocks go on to 03:00 soon
    "an-hour-was-left-out": "2026-03-08T03:00:20-06:00",
    "an-hour-comes-twice": "2026-11-01T01:59:40-06:00",  # Sunday; the clocks go back to 01:00 soon
    "an-hour-came-twice": "2026-11-01T01:00:20-07:00",
    "leap-day": "2028-02-29T12:00:00-07:00",  # Tuesday
    "new-years-eve": "2026-12-31T20:30:00-07:00",  # Thursday; next year in UTC
}
"""Every weekday, both changes of the clocks, the leap day, and the last evening of a year."""
SOME = ("monday", "saturday-late", "an-hour-comes-twice")
"""Those under which what is marked runs each time; the long proofs take every one."""
AHEAD = "TESTS_CLOCK_AHEAD"
"""By how many seconds the run is ahead of the machine; `clocked/sitecustomize.py` reads it."""
FOLDER = Path(__file__).parent / "clocked"


def add_option(parser: pytest.Parser) -> None:
    """`--clock`, by name, as a moment, or `now` for the machine's own."""
    parser.addoption(
        "--clock",
        default=None,
        help=f"the time at which the run begins: one of {', '.join(CLOCKS)}, a moment with its"
        f" offset such as 2026-12-31T20:30-07:00, or now (default: {ORDINARY})",
    )


def moment(name: str) -> datetime:
    """The moment of that name; one written out with its offset is itself."""
    found = datetime.fromisoformat(CLOCKS.get(name, name))
    if found.tzinfo is None:
        raise pytest.UsageError(f"--clock {name}: give the offset too, as in {CLOCKS[ORDINARY]}")
    return found


@contextmanager
def at(name: str) -> Iterator[None]:
    """Inside it is that moment, here and in every Python process that is started."""
    begin = moment(name)
    before = {each: os.environ.get(each) for each in (AHEAD, "PYTHONPATH")}
    real = time.time() - float(before[AHEAD] or 0)
    os.environ[AHEAD] = str(begin.timestamp() - real)
    paths = [str(FOLDER), *(before["PYTHONPATH"] or "").split(os.pathsep)]
    os.environ["PYTHONPATH"] = os.pathsep.join(dict.fromkeys(filter(None, paths)))
    try:
        with time_machine.travel(begin.timestamp()):
            yield
    finally:
        for each, had in before.items():
            os.environ.pop(each) if had is None else os.environ.update({each: had})


def start(config: pytest.Config) -> None:
    """Begin the run at its moment; a worker of a run is a process that was started in it."""
    name = config.getoption("--clock") or ORDINARY
    if name != "now" and AHEAD not in os.environ:
        travelling = ExitStack()
        travelling.enter_context(at(name))
        config.add_cleanup(travelling.close)


def each_clock(metafunc: pytest.Metafunc) -> None:
    """Ask for a test that is marked once under each clock, unless the run was given one.

    Under SOME of them but on a whole run, of which there is one under each in `make proof`.
    """
    marked = metafunc.definition.get_closest_marker("every_clock")
    if not marked or metafunc.config.getoption("--clock"):
        return
    names = SOME
    if metafunc.config.getoption("--whole"):
        names = tuple(CLOCKS)
    metafunc.parametrize("clock_of_test", names, indirect=True)


def house_day(ahead: int = 0) -> date:
    """Today at the house, or so many days after it."""
    return (timezone.now().astimezone(HOUSE) + timedelta(days=ahead)).date()


def main(arguments: list[str]) -> int:
    """Run the whole suite under each clock, one line each; 1 when it is red under any."""
    red = 0
    for name in CLOCKS:
        command = [sys.executable, "-m", "pytest", "-q", "--tb=short", "--clock", name, *arguments]
        run = subprocess.run(command, capture_output=True, text=True, check=False)
        last = run.stdout.strip().rpartition("\n")[2].strip("= ")
        when = moment(name)
        print(f"{name:22} {when:%A %Y-%m-%d %H:%M %z}: {last}", flush=True)
        if run.returncode:
            red += 1
            print(run.stdout[-20_000:], run.stderr[-2_000:], sep="\n", flush=True)
    return int(bool(red))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

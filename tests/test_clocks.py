"""The clock of a run: what it tells, and to whom; and that nobody asks another one."""

import ast
import subprocess
import sys
import time
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.utils import timezone

from tests.clock_uses import faults
from tests.clocks import CLOCKS, HOUSE, ORDINARY, at, house_day, moment

HOUR = timedelta(hours=1)
ASK = "import datetime; print(datetime.datetime.now(datetime.UTC).isoformat())"


def told_to_a_process() -> datetime:
    command = [sys.executable, "-c", ASK]
    return datetime.fromisoformat(subprocess.check_output(command, text=True).strip())


def test_a_run_begins_at_its_moment_and_so_do_processes_that_it_starts(
    request: pytest.FixtureRequest,
) -> None:
    name = request.config.getoption("--clock") or ORDINARY
    if name != "now":
        assert moment(name) <= timezone.now() < moment(name) + 6 * HOUR
    assert abs(told_to_a_process() - timezone.now()) < HOUR / 60
    assert abs(datetime.fromtimestamp(time.time(), UTC) - timezone.now()) < HOUR / 60


@pytest.mark.parametrize("name", CLOCKS)
def test_within_a_test_it_is_another_moment_for_as_long_as_that(name: str) -> None:
    before = timezone.now()
    with at(name):
        assert moment(name) <= timezone.now() < moment(name) + HOUR
        assert house_day() == moment(name).astimezone(HOUSE).date()
    assert before <= timezone.now() < before + HOUR
    assert abs(told_to_a_process() - timezone.now()) < HOUR / 60


@pytest.mark.every_clock
def test_what_is_marked_runs_under_every_clock(request: pytest.FixtureRequest) -> None:
    given = request.config.getoption("--clock")
    name = given or request.node.callspec.params["clock_of_test"]
    assert name == "now" or timezone.now() - moment(name) < 6 * HOUR
    assert abs(told_to_a_process() - timezone.now()) < HOUR / 60


def test_the_clocks_are_every_weekday_both_changes_the_leap_day_and_the_last_evening() -> None:
    local = [moment(name).astimezone(HOUSE) for name in CLOCKS]
    assert {each.weekday() for each in local} == set(range(7))
    offsets = Counter((each.month, each.day, each.utcoffset()) for each in local)
    for month, day in ((3, 8), (11, 1)):
        assert len([on for on in offsets if on[:2] == (month, day)]) == 2
    assert any((each.month, each.day) == (2, 29) for each in local)
    assert any((each.month, each.day, each.hour) == (12, 31, 20) for each in local)
    assert any(each.date() != each.astimezone(UTC).date() for each in local)


@pytest.mark.parametrize(
    "text",
    [
        "date.today()",
        "datetime.date.today()",
        "datetime.now(ZONE)",
        "time.time()",
        "timezone.now().date()",
        "timezone.localdate()",
        "timezone.now().replace(year=2099)",
    ],
)
def test_a_day_or_a_moment_of_another_clock_is_refused(text: str) -> None:
    assert list(faults(Path("tests/pages/test_x.py"), ast.parse(text)))
    assert list(faults(Path("pages/office/people.py"), ast.parse(text)))
    assert not list(faults(Path("bench/site.py"), ast.parse(text)))


def test_the_one_clock_is_not_refused() -> None:
    tree = ast.parse("timezone.now(); house_day(); today_at(job, timezone.now()); time.monotonic()")
    assert not list(faults(Path("tests/pages/test_x.py"), tree))

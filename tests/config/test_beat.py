"""The beat, when the clock of the machine is set."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from celery.beat import ScheduleEntry

from config.beat import Scheduler
from config.celery import app

EVERY = 60


@pytest.fixture
def now(monkeypatch) -> list[datetime]:
    """A clock in one place, which the test sets."""
    clock = [datetime(2026, 3, 16, 12, tzinfo=UTC)]
    monkeypatch.setattr(ScheduleEntry, "default_now", lambda _entry: clock[0])
    monkeypatch.setattr(type(app), "now", lambda _app: clock[0])
    return clock


class Counting(Scheduler):
    """A beat that counts what it would have sent."""

    sent: list[str]

    def apply_entry(self, entry, producer=None):
        self.sent.append(entry.name)


@pytest.fixture
def beat(monkeypatch, tmp_path, now) -> Iterator[Counting]:
    """A beat with two tasks, which counts what it would have sent."""
    schedule = {
        name: {"task": name, "schedule": timedelta(seconds=EVERY)} for name in ("one", "two")
    }
    had, app.conf.beat_schedule = app.conf.beat_schedule, schedule
    made = Counting(app, schedule_filename=str(tmp_path / "schedule"), max_interval=300)
    made.sent = []
    vars(made)["producer"] = None  # kept as if it had been asked for: there is no broker
    yield made
    made.close()
    app.conf.beat_schedule = had


def _passes(beat: Counting, times: int = 10) -> list[str]:
    """What is sent by so many ticks at one moment."""
    beat.sent.clear()
    for _ in range(times):
        beat.tick()
    return sorted(set(beat.sent) & {"one", "two"})


def test_it_is_the_scheduler_of_the_app():
    assert app.conf.beat_scheduler == "config.beat:Scheduler"


def test_each_task_runs_once_in_its_time(beat, now):
    now[0] += timedelta(seconds=EVERY + 1)
    assert _passes(beat) == ["one", "two"]
    assert _passes(beat) == []


@pytest.mark.parametrize("back", [timedelta(hours=1), timedelta(minutes=2)])
def test_a_clock_set_back_keeps_no_task_waiting(beat, now, back):
    now[0] += timedelta(seconds=EVERY + 1)
    _passes(beat)
    now[0] -= back
    assert _passes(beat) == ["one", "two"]
    assert _passes(beat) == [], "but each only once"
    now[0] += timedelta(seconds=EVERY + 1)
    assert _passes(beat) == ["one", "two"]


def test_a_beat_started_again_with_a_moment_ahead_goes_on(beat, now, tmp_path):
    for entry in beat.schedule.values():
        entry.last_run_at = now[0] + timedelta(hours=1)
    assert _passes(beat) == ["one", "two"]

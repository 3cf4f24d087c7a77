"""Workers, beat and a mail server that are killed at random while the outbox empties."""

import os
import random
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from tests.notifications import mail_sink

ROOT = Path(__file__).resolve().parents[2]
CELERY = [sys.executable, "-W", "ignore", "-m", "celery", "-A", "config"]
QUIET = ["--without-mingle", "--without-gossip", "--without-heartbeat", "--loglevel", "error"]


@dataclass
class Victims:
    """The processes, each started again as soon as it was killed."""

    environment: dict[str, str]
    folder: Path
    port: int
    running: dict[str, subprocess.Popen[bytes]] = field(default_factory=dict)
    kills: Counter[str] = field(default_factory=Counter)

    def start(self, name: str) -> None:
        """Start one of them."""
        if name == "mail":
            self.running[name] = mail_sink.start(self.port, self.folder / "taken")
            return
        command = [*CELERY, "worker", "--pool", "solo", "-n", f"{name}@test", *QUIET]
        command += ["-Q", "celery,urgent,ordinary,bulk"]
        if name == "beat":
            command = [*CELERY, "beat", "--schedule", str(self.folder / "beat"), "-l", "error"]
            command += ["--pidfile", ""]
        self.running[name] = subprocess.Popen(
            command, env=self.environment, cwd=ROOT, start_new_session=True
        )

    def start_all(self) -> None:
        """A mail server, two workers and the beat."""
        for name in ("mail", "one", "two", "beat"):
            self.start(name)

    def kill_one(self, name: str) -> None:
        """SIGKILL, and another in its place."""
        process = self.running[name]
        process.kill()
        process.wait()
        self.kills[name] += 1
        self.start(name)

    def end(self) -> None:
        """End what is left."""
        for process in self.running.values():
            process.kill()
            process.wait()

    def taken(self) -> list[str]:
        """The Message-IDs that the mail server took on, in order."""
        path = self.folder / "taken"
        lines = path.read_text().splitlines() if path.exists() else []
        return [line.split()[0] for line in lines]


def kill_while_sending(victims: Victims, kills: int, all_sent: Callable[[], bool]) -> None:
    """Kill one at random, so many times, each while messages go out; then let the rest go.

    The next is killed once more messages have arrived, so that every kill meets work under way.
    """
    chance = random.Random(20260302)
    names = chance.choices(["one", "two", "mail", "beat"], weights=[4, 4, 3, 1], k=kills)
    for name in names:
        before = len(victims.taken())
        until = time.monotonic() + 60
        while len(victims.taken()) <= before + chance.randrange(3, 12) and not all_sent():
            assert time.monotonic() < until, "nothing goes out any more"
            time.sleep(chance.random() * 0.05)
        victims.kill_one(name)
    until = time.monotonic() + 180
    while not all_sent():
        assert time.monotonic() < until, "not all of it was sent"
        time.sleep(0.2)


def child_environment(database: str, port: int) -> dict[str, str]:
    """How the processes find the test's database and mail server."""
    return os.environ | {
        "DATABASE_URL": os.environ["DATABASE_URL"].replace("/postgres?", f"/{database}?"),
        "STUDBAY_SWEEP_SECONDS": "1",
        "STUDBAY_LEASE_SECONDS": "4",
        "STUDBAY_MAIL_URL": f"smtp+plain://127.0.0.1:{port}",
    }

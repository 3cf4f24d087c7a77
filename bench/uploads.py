"""Hostile uploads against the real site in embedded mode: memory, answers, and what is left.

python -m bench.uploads [N] [--seed S] [--results FILE]

N files and bodies of every kind that is taken, each broken, huge or a bomb in a way of its own, by
several people at once. Nothing may take 400 MB, answer with a fault of ours, or leave a file.
"""

import argparse
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any

import psutil

from bench.hostile_files import Upload, uploads
from tests.servers import free_port

ROOT = Path(__file__).resolve().parents[1]
MOST_MB = 400
PEOPLE = 4
LASTING = ("studbay.sqlite3", "beat-schedule", "broker", "kept", "messages", "static", "serve.lock")
"""What embedded mode keeps in its folder, by how the names begin."""


def main() -> int:
    """Print what became of it as JSON; 1 when a goal was missed."""
    asked = argparse.ArgumentParser()
    asked.add_argument("count", nargs="?", type=int, default=100)
    asked.add_argument("--seed", type=int, default=21)
    asked.add_argument("--results")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory(prefix="studbay-uploads-") as folder:
        told = Run(Path(folder), given.count, given.seed).told()
    text = json.dumps(told, indent=1)
    print(text)
    if given.results:
        Path(given.results).write_text(text + "\n")
    return int(not told["reached"])


class Run:
    """The site, those who send, and whoever watches its processes."""

    def __init__(self, folder: Path, count: int, seed: int) -> None:
        self.var, self.temporary = folder / "var", folder / "tmp"
        self.temporary.mkdir()
        self.count, self.seed = count, seed
        self.port = free_port()
        self.largest: dict[str, int] = {}
        self.under_way: dict[int, str] = {}
        self.under_way_then: dict[str, list[str]] = {}
        """What was being sent when a kind of process was at its largest."""
        self.statuses: Counter[int] = Counter()
        self.by_kind: Counter[str] = Counter()
        self.faults: list[str] = []
        self.slowest = 0.0
        self.lock = threading.Lock()
        self.ended = threading.Event()

    def told(self) -> dict[str, Any]:
        """Play it, and what became of it."""
        os.environ |= {
            "STUDBAY_VAR": str(self.var),
            "STUDBAY_LISTEN": f"127.0.0.1:{self.port}",
            "STUDBAY_CALLS_A_MINUTE": "1000000",
            "TMPDIR": str(self.temporary),
        }
        for name in ("DATABASE_URL", "REDIS_URL"):
            os.environ.pop(name, None)
        migrate = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
        subprocess.run(migrate, cwd=ROOT, check=True)
        made = subprocess.run(
            [sys.executable, "-m", "bench.uploads_ground"],
            cwd=ROOT,
            check=True,
            capture_output=True,
            text=True,
        )
        ground = json.loads(made.stdout.splitlines()[-1])
        serve = [sys.executable, "manage.py", "serve"]
        began = time.monotonic()
        site = subprocess.Popen(serve, cwd=ROOT, stdout=subprocess.DEVNULL)
        try:
            self._wait()
            watching = threading.Thread(target=self._watch, args=(site.pid,))
            watching.start()
            self._send(ground)
            time.sleep(3)  # what was queued is done
            self.ended.set()
            watching.join()
        finally:
            site.send_signal(signal.SIGTERM)
            site.wait(60)
        left = self._left(ground)
        largest = max(self.largest.values(), default=0)
        reached = largest <= MOST_MB and not self.faults and not left
        answers = {}
        for status, n in sorted(self.statuses.items()):
            answers[str(status)] = n
        return {
            "on": time.strftime("%Y-%m-%d"),
            "uploads": sum(self.by_kind.values()),
            "seed": self.seed,
            "seconds": round(time.monotonic() - began),
            "kinds": dict(sorted(self.by_kind.items())),
            "answers": answers,
            "largest_process_mb": dict(sorted(self.largest.items())),
            "under_way_at_the_largest": self.under_way_then.get("web", []),
            "slowest_answer_s": round(self.slowest, 1),
            "faults": self.faults[:20],
            "left_on_disc": left[:20],
            "reached": reached,
        }

    def _wait(self) -> None:
        until = time.monotonic() + 120
        while time.monotonic() < until:
            try:
                line = HTTPConnection("127.0.0.1", self.port, timeout=5)
                line.request("GET", "/healthy")
                if line.getresponse().status == 200:
                    return
            except OSError:
                time.sleep(0.2)
        raise SystemExit("the site never answered")

    def _watch(self, pid: int) -> None:
        """Write down the most that each kind of process holds of memory."""
        while not self.ended.is_set():
            try:
                every = psutil.Process(pid).children(recursive=True)
            except psutil.Error:
                return
            for each in every:
                try:
                    name, held = _kind(each.cmdline()), each.memory_info().rss // 1_000_000
                except psutil.Error:
                    continue
                if held > self.largest.get(name, 0):
                    self.largest[name] = held
                    self.under_way_then[name] = list(self.under_way.copy().values())
            time.sleep(0.1)

    def _send(self, ground: dict[str, Any]) -> None:
        waiting = uploads(random.Random(self.seed), ground, self.count)

        def person() -> None:
            while True:
                with self.lock:
                    sent = next(waiting, None)
                if sent is None:
                    return
                own = threading.get_ident()
                self.under_way[own] = f"{sent.kind}: {sent.what}, {len(sent.body)} bytes"
                self._one(sent, ground)
                self.under_way.pop(own)

        people = []
        for _ in range(PEOPLE):
            people.append(threading.Thread(target=person))
        for each in people:
            each.start()
        for each in people:
            each.join()

    def _one(self, sent: Upload, ground: dict[str, Any]) -> None:
        headers = {"Content-Type": sent.content_type} | sent.headers
        if sent.path.startswith("/api/"):
            headers["Authorization"] = f"Bearer {ground['token']}"
        else:
            headers["Cookie"] = f"sessionid={ground['session']}; csrftoken={'a' * 32}"
            headers["X-CSRFToken"] = "a" * 32
        began = time.monotonic()
        status = 0
        line = HTTPConnection("127.0.0.1", self.port, timeout=180)
        try:
            line.request("POST", sent.path, sent.body, headers)
            status = line.getresponse().status
        except TimeoutError:
            status = -1
        except (OSError, HTTPException):  # it hung up on what it does not want
            status = 0
        finally:
            line.close()
        with self.lock:
            self.slowest = max(self.slowest, time.monotonic() - began)
            self.statuses[status] += 1
            self.by_kind[sent.kind] += 1
            if status >= 500 or status == -1:
                self.faults.append(f"{status} for {sent.kind}: {sent.what} at {sent.path}")

    def _left(self, ground: dict[str, Any]) -> list[str]:
        """Files that nothing refers to."""
        found = []
        for path in self.temporary.rglob("*"):
            if path.is_file():
                found.append(str(path))
        lasting = (*LASTING, *ground["there"])
        for path in self.var.rglob("*"):
            name = str(path.relative_to(self.var))
            if path.is_file() and not name.startswith(lasting):
                found.append(name)
        kept = subprocess.run(
            [sys.executable, "-m", "bench.uploads_ground", "kept"],
            cwd=ROOT,
            check=True,
            capture_output=True,
            text=True,
        )
        known = set(json.loads(kept.stdout.splitlines()[-1]))
        for path in (self.var / "kept").rglob("*"):
            if path.is_file() and str(path.relative_to(self.var / "kept")) not in known:
                found.append(f"kept/{path.name}")
        return found


def _kind(command: list[str]) -> str:
    """What a process is, by its command."""
    text = " ".join(command)
    for mark, name in (
        ("inspections.pictures.child", "picture"),
        ("inspections.building.child", "model"),
        ("config.web", "web"),
        ("messenger@", "messenger"),
        ("worker@", "worker"),
        ("valkey", "broker"),
    ):
        if mark in text:
            return name
    return "other"


if __name__ == "__main__":
    sys.exit(main())

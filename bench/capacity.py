"""What each act costs, and what so many jobs need: `python -m bench.capacity [page]`.

PostgreSQL, Valkey, a mail server, gunicorn and a worker run as in a cluster; each act is done many
times, and what each process tree spent of the processor is divided by how often. Writes
docs/results/capacity.json and, from it, docs/capacity.md.
"""

import json
import os
import platform
import sys
import tempfile
import time
import uuid
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import psutil

from bench.capacity_page import capacity_markdown
from bench.drills.crowd import FORM, JSON, PICTURE
from bench.drills.ground import DrillFolder
from bench.drills.stack import Stack

ROOT = Path(__file__).resolve().parent.parent
HOUSE = ROOT / "examples" / "quillet-corrected.json"
OPEN, EVERY = 200, 5_000
"""Open jobs of the shop whose day is asked for, and jobs in the database."""
TIMES = 60
LIBRARIES = ("django", "djangorestframework", "celery", "psycopg", "gunicorn", "reportlab")


def main() -> int:
    """Measure, and write both files; with `page` the page alone, from the figures that are kept."""
    results = ROOT / "docs" / "results" / "capacity.json"
    if "page" in sys.argv:
        (ROOT / "docs" / "capacity.md").write_text(
            capacity_markdown(json.loads(results.read_text()))
        )
        return 0
    with tempfile.TemporaryDirectory(prefix="cost-", ignore_cleanup_errors=True) as name:
        ground = DrillFolder(Path(name), bare=True)
        stack = Stack(Path(name), ground, workers=1, beats=0)
        os.environ.update(stack.environment | {"STUDBAY_SWEEP_SECONDS": "60"})
        try:
            figures = _measured(stack)
        finally:
            stack.end()
            ground.end()
    results.write_text(json.dumps(figures, indent=1) + "\n")
    (ROOT / "docs" / "capacity.md").write_text(capacity_markdown(figures))
    print(capacity_markdown(figures))
    return 0


class Meter:
    """What each part has spent of the processor, in ms."""

    def __init__(self, stack: Stack) -> None:
        self._stack = stack
        self._trees = {"site": ["web"], "worker": ["one"], "broker": ["broker"]}

    def spent(self) -> dict[str, float]:
        """By part, children and all; the work of this process is that of a worker."""
        running = self._stack.running
        found = {}
        for part, names in self._trees.items():
            found[part] = sum(_tree(running[name].pid) for name in names if name in running)
        found["worker"] += 1000 * time.process_time()
        found["database"] = _tree(int((self._stack.data / "postmaster.pid").read_text().split()[0]))
        return found

    def cost(self, work: Callable[[], object], times: int, *, ours: bool) -> dict[str, float]:
        """What one costs by part. `ours`: this process does the work itself; else it only asks,
        and what it spends is no cost of the site's.
        """
        work()  # once for what is done but once
        before, own = self.spent(), 1000 * time.process_time()
        for _ in range(times):
            work()
        self.rest()
        own = 1000 * time.process_time() - own
        after = self.spent()
        each = {}
        for part in after:
            each[part] = (after[part] - before[part]) / times
        if not ours:
            each["worker"] -= own / times
        by_part: dict[str, float] = {}
        for part, ms in each.items():
            if ms >= 0.005:
                by_part[part] = round(ms, 2)
        return by_part

    def rest(self) -> None:
        """Wait until the worker has done what was asked of it."""
        import redis

        client = redis.Redis(port=self._stack.broker_port)
        queues = ("celery", "urgent", "ordinary", "bulk", "unacked")
        while any(_length(client, name) for name in queues):
            time.sleep(0.05)
        time.sleep(0.5)


def _length(client: Any, name: str) -> int:
    return int(client.hlen(name) if name == "unacked" else client.llen(name))


def _tree(pid: int) -> float:
    """Milliseconds of a process and its children; of those that ended, through their parent."""
    process = psutil.Process(pid)
    total = 0.0
    for each in [process, *process.children(recursive=True)]:
        try:
            times = each.cpu_times()
        except psutil.NoSuchProcess:
            continue
        total += times.user + times.system + times.children_user + times.children_system
    return 1000 * total


def _measured(stack: Stack) -> dict[str, Any]:
    stack.start("broker")
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)
    from bench.office import _shop as crowded

    shop = crowded(OPEN, EVERY)
    before, jobs = _size(), 10
    made = []
    for number in range(jobs):
        made.append(_job(shop, number))
    grown = (_size() - before) / jobs
    stack.start_all()
    meter, ask = Meter(stack), _Asker(stack, shop, made[0])
    costs: dict[str, dict[str, float]] = {}
    meter.rest()  # what the jobs above rang for
    for act, work in ask.acts().items():
        costs[act] = meter.cost(work, TIMES, ours=False)
        print(f"{act}: {costs[act]}", flush=True)
    for act, (work, times, each) in _works(shop, made[1]).items():
        found = meter.cost(work, times, ours=True)
        costs[act] = {part: round(ms / each, 2) for part, ms in found.items()}
        print(f"{act}: {costs[act]}", flush=True)
    # A house is checked in the request that records it.
    costs["a check of 118 boxes"]["site"] = costs["a check of 118 boxes"].pop("worker")
    memory = {
        "site": _memory(stack.running["web"].pid) / (1 + 2),  # two processes and their parent
        "worker": _memory(stack.running["one"].pid),
    }
    by_part = {}
    for part, mb in memory.items():
        by_part[part] = round(mb)
    rounds = []
    for each in os.getloadavg():
        rounds.append(round(each, 2))
    by_name = {}
    for name in LIBRARIES:
        by_name[name] = version(name)
    return {
        "costs": costs,
        "bytes a job": round(grown),
        "MB a process": by_part,
        "jobs in the database": EVERY + jobs,
        "load average": rounds,
        "machine": f"{platform.machine()}, {os.cpu_count()} cores, {_model()}",
        "python": platform.python_version(),
        "versions": by_name | {"PostgreSQL": _postgres()},
    }


def _job(shop: Any, number: int) -> Any:
    """A job with a house that was recorded, seen and accepted."""
    job = shop.roughed_in(HOUSE.read_bytes())
    for area in job.areas.all():
        shop.look_at(area)
        shop.accept(area, reference=f"R{number}")
    return job


class _Asker:
    """Somebody who asks the site over HTTP."""

    def __init__(self, stack: Stack, shop: Any, job: Any) -> None:
        from django.test import Client

        from inspections.checker.finding import Verdict
        from inspections.services.links import cover_link_make
        from jobs.models import ApiToken
        from jobs.services.tokens import token_make

        client = Client(headers={"host": "localhost"})
        client.force_login(shop.office)
        self._cookie = {"Cookie": f"sessionid={client.cookies['sessionid'].value}"}
        scope = ApiToken.Scope.WRITE
        token = token_make(shop.office, name="capacity", scope=scope)[1]
        self._token = {"Authorization": f"Bearer {token}"}
        self._secret = cover_link_make(shop.office, job=job, for_whom="Bench")[1]
        self._url, self._job = stack.urls[0], job
        looks = job.items.filter(verdict=Verdict.VERIFY, current=True, stage="rough-in")
        self._items = list(looks)

    def acts(self) -> dict[str, Callable[[], object]]:
        """What is asked, by name."""
        job = self._job.id
        signed, token = self._cookie, self._token
        return {
            "the office's day": lambda: self._ask("/today/", signed),
            "a job's page": lambda: self._ask(f"/jobs/{job}/", signed),
            "a cover page by its link": lambda: self._ask(f"/l/{self._secret}", {}),
            "a walk's page and data": self._walk,
            "a tick by the API, and its settling": self._tick,
            "a photograph": self._photograph,
            "a read by the API": lambda: self._ask(f"/api/jobs/{job}", token),
        }

    def _walk(self) -> None:
        self._ask(f"/walk/{self._job.id}/", self._cookie)
        self._ask(f"/walk/{self._job.id}/data", self._cookie)

    def _tick(self) -> None:
        from datetime import UTC, datetime

        item, now = self._items[0], datetime.now(UTC).isoformat()
        self._items.append(self._items.pop(0))
        tick = {"id": str(uuid.uuid4()), "item": str(item.id), "outcome": "ok"}
        tick |= {"fingerprint": item.fingerprint, "made_at": now, "known_at": now}
        body = json.dumps({"phone_now": now, "ticks": [tick]}).encode()
        path = f"/api/jobs/{self._job.id}/observations"
        self._ask(path, self._token | {"Content-Type": JSON}, body)

    def _photograph(self) -> None:
        path = f"/api/items/{self._items[0].id}/photographs"
        self._ask(path, self._token | {"Content-Type": FORM}, PICTURE)

    def _ask(self, path: str, headers: dict[str, str], body: bytes | None = None) -> None:
        with urlopen(Request(self._url + path, body, headers), timeout=30) as answer:
            assert answer.status in (200, 201), answer.status
            answer.read()


MAILS = 100


def _works(shop: Any, job: Any) -> dict[str, tuple[Callable[[], object], int, int]]:
    """What a worker does, done in this process: the work, how often, how many acts each is."""
    from inspections.checker.amendments import load_rulebook
    from inspections.checker.check import check
    from inspections.checker.load import load_house
    from inspections.models import Pack
    from inspections.services.packs import pack_make
    from inspections.services.settling import job_settle
    from notifications.models import Channel
    from notifications.services.wishes import address_add

    house, book = load_house(HOUSE.read_bytes()), load_rulebook("cec-2021")
    mail = {"shop": shop.shop, "channel": Channel.EMAIL, "target": "lead@example.org"}
    address_add(shop.lead, person=shop.lead, **mail)

    def pack() -> None:
        from django.utils import timezone

        kind = Pack.Kind.values[0]
        made = Pack.objects.create(
            job=job, kind=kind, paper="letter", asked_by=shop.office, asked_at=timezone.now()
        )
        assert pack_make(made.id).state == Pack.State.MADE

    return {
        "a settling by the clock": (lambda: job_settle(job.id), TIMES, 1),
        "a check of 118 boxes": (lambda: check(house, book), TIMES, 1),
        "a notice by mail": (lambda: _mails(shop), 5, MAILS),
        "an inspection pack": (pack, 5, 1),
    }


def _mails(shop: Any) -> None:
    """Give so many notices, plan how each goes, and send them."""
    from bench.notices import give_due
    from notifications.models import Channel, Lane
    from notifications.services.sending import deliver

    give_due(shop, MAILS)
    sent = deliver(Lane.ORDINARY, Channel.EMAIL)
    assert sent >= MAILS, sent


def _size() -> int:
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_database_size(current_database())")
        return int(cursor.fetchone()[0])


def _postgres() -> str:
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("SHOW server_version")
        return str(cursor.fetchone()[0])


def _memory(pid: int) -> float:
    """Megabytes that are a process tree's own."""
    process = psutil.Process(pid)
    trees = [process, *process.children(recursive=True)]
    own: int = sum(each.memory_full_info().uss for each in trees)
    return own / 1e6


def _model() -> str:
    lines = Path("/proc/cpuinfo").read_text().splitlines()
    for line in lines:
        if "model name" in line:
            return line.split(":")[1].strip()
    return "unknown"


if __name__ == "__main__":
    sys.exit(main())

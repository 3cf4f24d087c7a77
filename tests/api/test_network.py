"""Calls over a network that loses, repeats, delays and cuts off: the end is that of a good one.

Each call is made over a socket of its own to a live server. A bad network loses it before it
arrives, cuts it off after the server has acted and before the answer is read, sends it twice, or
lets a later one overtake it; whoever made it sends it again under the same key until it is
answered. The same calls go once, in order, to another job of the same house.
"""

import http.client
import json
import random
import socket
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from urllib.parse import urlsplit

import pytest
from django.db import close_old_connections, connection
from django.utils import timezone
from rest_framework.throttling import SimpleRateThrottle

from inspections.checker.finding import Verdict
from inspections.models import Observation
from jobs.models import ApiToken, Job
from jobs.services.tokens import token_make
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db(transaction=True)
BEGIN = timezone.now() - timedelta(hours=1)
CALLS = 8


class Network:
    """A way to the server that may be bad."""

    def __init__(self, address: str, secret: str, chance: random.Random | None) -> None:
        self.at, self.chance = urlsplit(address), chance
        self.headers = {"Authorization": f"Bearer {secret}", "Content-Type": "application/json"}
        self.bad = 0

    def call(self, method: str, path: str, body: dict[str, object], key: str) -> int:
        """Send it again and again until it is answered; the status of the answer."""
        for _ in range(12):
            fault = self.chance.choice(["", "", "lost", "cut", "twice"]) if self.chance else ""
            self.bad += bool(fault)
            if fault == "lost":
                continue
            if fault == "twice":
                self._send(method, path, body, key, read=True)
            status = self._send(method, path, body, key, read=fault != "cut")
            if status is not None:
                return status
        raise AssertionError("never answered")

    def _send(self, method: str, path: str, body, key: str, *, read: bool) -> int | None:
        line = http.client.HTTPConnection(sure(self.at.hostname), self.at.port, timeout=60)
        headers = self.headers | {"Idempotency-Key": key}
        line.request(method, path, json.dumps(body), headers)
        if read:
            answer = line.getresponse()
            answer.read()
            line.close()
            return answer.status
        line.sock.shutdown(socket.SHUT_RD)
        line.sock.recv(1)
        line.close()
        return None


def drawn(chance: random.Random) -> list[tuple[str, int, dict[str, object]]]:
    """Some calls: what on, which of them, and what is sent."""
    found: list[tuple[str, int, dict[str, object]]] = []
    for number in range(CALLS):
        seen_at = (BEGIN + timedelta(minutes=number)).isoformat()
        outcome = chance.choice(["ok", "fix"])
        note = f"look {chance.randrange(1000)}"
        given: dict[str, object] = {"outcome": outcome, "note": note, "seen_at": seen_at}
        found.append(("item", chance.randrange(3), given))
    found.append(("trade", 0, {"trade": "plumbing", "done": chance.random() < 0.5}))
    return found


def sent(network: Network, job: Job, calls, keys: str, together: int) -> None:
    """Send the calls, so many under way at once; those of one thing come in any order."""
    items = list(job.items.filter(verdict=Verdict.VERIFY).order_by("position")[:3])

    def one(numbered) -> None:
        number, (kind, which, given) = numbered
        path = f"/api/items/{items[which].id}/observations"
        path = path if kind == "item" else f"/api/jobs/{job.id}/trades"
        assert network.call("POST", path, given, f"{keys}-{number}") == 201
        close_old_connections()

    with ThreadPoolExecutor(together) as pool:
        list(pool.map(one, enumerate(calls)))


def state(job: Job) -> list[object]:
    """What is on record of it, in an order that does not depend on when it came."""
    seen = Observation.objects.filter(item__job=job).order_by("item__position", "seen_at")
    told = [(each.item.subject, each.outcome, each.note, each.seen_at) for each in seen]
    trades = [(each.trade, each.done) for each in job.trade_reports.all()]
    return [told, trades, sorted(job.record.values_list("action", flat=True))]


@pytest.mark.postgresql
def test_the_end_is_that_of_a_good_network(shop, live_server, whole, monkeypatch) -> None:
    monkeypatch.setattr(SimpleRateThrottle, "THROTTLE_RATES", {"token": None})
    shop.shop.trades = ["plumbing"]
    shop.shop.save()
    _, secret = token_make(shop.lead, name="phone", scope=ApiToken.Scope.WRITE)
    bad = 0
    for number in range(1000 if whole else 8):
        chance = random.Random(number)
        clean, other = (shop.roughed_in(HOUSES["clean"]) for _ in range(2))
        calls = drawn(chance)
        sent(Network(live_server.url, secret, None), clean, calls, f"clean {number}", 1)
        network = Network(live_server.url, secret, chance)
        sent(network, other, calls, f"other {number}", 3)
        bad += network.bad
        assert state(other) == state(clean), number
    assert bad > 3 * (1000 if whole else 8)
    _quiet()


def _quiet() -> None:
    """Wait until the server is done with calls that were cut off, before its tables are emptied."""
    busy = "SELECT count(*) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND datname = "
    busy += "current_database() AND state <> 'idle'"
    until = time.monotonic() + 15
    while time.monotonic() < until:
        with connection.cursor() as cursor:
            cursor.execute(busy)
            if not cursor.fetchone()[0]:
                return
        time.sleep(0.1)

"""People who work all the while, and a book of what the site told each of them."""

import json
import random
import threading
import time
import uuid
from collections import Counter
from dataclasses import dataclass, field
from datetime import UTC, datetime
from http.client import HTTPException
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.request import Request, urlopen

PATIENCE = 25.0  # seconds; what takes longer is asked again
HONEST = {200, 201, 202, 400, 409, 412, 422, 503}
"""What an answer may be: done, refused for a reason, or not now."""


@dataclass
class Book:
    """What the site said it had kept, and every answer that it should not have given."""

    kept: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Ticks by id: item and outcome."""
    cleared: dict[str, str] = field(default_factory=dict)
    """Clearances that were issued, by id: their area."""
    wrong: list[str] = field(default_factory=list)
    answers: Counter[str] = field(default_factory=Counter)
    lock: threading.Lock = field(default_factory=threading.Lock)


class Worker(threading.Thread):
    """Somebody who ticks items, and now and then clears an area or asks what holds it."""

    def __init__(self, url: str, token: str, areas: list[dict[str, Any]], book: Book, seed: int):
        super().__init__(daemon=True)
        self.url, self.token, self.areas, self.book = url, token, areas, book
        self.chance = random.Random(seed)
        self.stop = threading.Event()

    def run(self) -> None:
        """Work until told to stop."""
        while not self.stop.is_set():
            area = self.chance.choice(self.areas)
            act = self.chance.random()
            if act < 0.7:
                self._tick(area)
            elif act < 0.85:
                self._clear(area)
            else:
                self._call("GET", f"/api/jobs/{area['job']}")
            self.stop.wait(self.chance.random() * 0.05)

    def _tick(self, area: dict[str, Any]) -> None:
        item = self.chance.choice(area["items"])
        outcome = "pass" if self.chance.random() < 0.8 else "fail"
        now = datetime.now(UTC).isoformat()
        tick = {"id": str(uuid.uuid4()), "item": item["id"], "outcome": outcome}
        tick |= {"fingerprint": item["fingerprint"], "made_at": now, "known_at": now}
        body = {"phone_now": now, "ticks": [tick]}
        told = self._until_told("POST", f"/api/jobs/{area['job']}/observations", body)
        if told and told["results"][0]["state"] in ("kept", "contested"):
            with self.book.lock:
                self.book.kept[tick["id"]] = (item["id"], outcome)

    def _clear(self, area: dict[str, Any]) -> None:
        told = self._until_told("POST", f"/api/areas/{area['id']}/clearances", {})
        if told and "id" in told:
            with self.book.lock:
                self.book.cleared[told["id"]] = area["id"]

    def _until_told(self, method: str, path: str, body: Any) -> dict[str, Any] | None:
        """Ask with one key until there is an answer; None when it was refused or never came."""
        key = uuid.uuid4().hex
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            status, told = self._call(method, path, body, key)
            if status in (200, 201, 202):
                return told
            if status in HONEST and status != 503:
                return None
            time.sleep(0.2)
        return None

    def _call(
        self, method: str, path: str, body: Any = None, key: str = ""
    ) -> tuple[int, dict[str, Any] | None]:
        """One request; 0 when the connection broke, which is no answer."""
        headers = {"Authorization": f"Bearer {self.token}", "Content-Type": "application/json"}
        headers |= {"Idempotency-Key": key} if key else {}
        data = json.dumps(body).encode() if body is not None else None
        request = Request(self.url + path, data, headers, method=method)
        try:
            with urlopen(request, timeout=20) as answer:
                status, text = answer.status, answer.read()
        except HTTPError as refused:
            status, text = refused.code, refused.read()
        except (URLError, OSError, HTTPException):
            self._note("no answer")
            return 0, None
        self._note(str(status))
        if status not in HONEST:
            with self.book.lock:
                self.book.wrong.append(f"{method} {path}: {status} {text[:200]!r}")
        try:
            return status, json.loads(text)
        except ValueError:
            return status, None

    def _note(self, what: str) -> None:
        with self.book.lock:
            self.book.answers[what] += 1

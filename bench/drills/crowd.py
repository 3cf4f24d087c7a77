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
from io import BytesIO
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.request import Request, urlopen

from PIL import Image

PATIENCE = 25.0  # seconds; what takes longer is asked again
HONEST = {200, 201, 202, 400, 409, 412, 422, 503}
"""What an answer may be: done, refused for a reason, or not now."""

AGAIN = 0.1
"""How often a call that was answered comes again."""
JSON, FORM = "application/json", "multipart/form-data; boundary=drill"


def _picture() -> bytes:
    """A form with a small photograph."""
    out = BytesIO()
    Image.new("RGB", (48, 48), "grey").save(out, "PNG")
    head = '--drill\r\nContent-Disposition: form-data; name="file"; filename="a.png"\r\n'
    head += "Content-Type: image/png\r\n\r\n"
    return head.encode() + out.getvalue() + b"\r\n--drill--\r\n"


PICTURE = _picture()


def _answered(request: Request) -> tuple[int, bytes]:
    """Status and body. Raises OSError or HTTPException when either did not come whole."""
    try:
        with urlopen(request, timeout=20) as answer:
            return answer.status, answer.read()
    except HTTPError as refused:
        return refused.code, refused.read()


@dataclass
class Book:
    """What the site said it had kept, and every answer that it should not have given."""

    kept: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Ticks by id: item and outcome."""
    released: dict[str, str] = field(default_factory=dict)
    """Cover releases that were issued, by id: their area."""
    pictured: dict[str, str] = field(default_factory=dict)
    """Photographs that were kept, by id: their item."""
    twice: list[str] = field(default_factory=list)
    """Calls that gave another answer when they came again with the same key."""
    wrong: list[str] = field(default_factory=list)
    answers: Counter[str] = field(default_factory=Counter)
    lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def acknowledged(self) -> int:
        """How many answers told what was asked: done or read."""
        total = 0
        for status in ("200", "201", "202"):
            total += self.answers[status]
        return total


class SiteWorker(threading.Thread):
    """Somebody who ticks items, and now and then releases an area, sends a photograph or asks.

    Every request goes to whichever site chance picks, as a balancer would have it.
    """

    def __init__(
        self,
        urls: list[str],
        token: str,
        areas: list[dict[str, Any]],
        book: Book,
        seed: int,
        rest: float = 0.05,
    ):
        """`rest` is the most seconds between two acts."""
        super().__init__(daemon=True)
        self.urls, self.token, self.areas, self.book = urls, token, areas, book
        self.rest = rest
        self.chance = random.Random(seed)
        self.stop = threading.Event()

    def run(self) -> None:
        """Work until told to stop."""
        while not self.stop.is_set():
            area = self.chance.choice(self.areas)
            act = self.chance.random()
            if act < 0.65:
                self._tick(area)
            elif act < 0.8:
                self._release(area)
            elif act < 0.85:
                self._photograph(area)
            else:
                self._call("GET", f"/api/jobs/{area['job']}")
            self.stop.wait(self.chance.random() * self.rest)

    def _tick(self, area: dict[str, Any]) -> None:
        item = self.chance.choice(area["items"])
        outcome = "fix"
        if self.chance.random() < 0.8:
            outcome = "ok"
        now = datetime.now(UTC).isoformat()
        tick = {"id": str(uuid.uuid4()), "item": item["id"], "outcome": outcome}
        tick |= {"fingerprint": item["fingerprint"], "made_at": now, "known_at": now}
        body = json.dumps({"phone_now": now, "ticks": [tick]}).encode()
        told = self._until_told("POST", f"/api/jobs/{area['job']}/observations", body)
        if told and told["results"][0]["state"] in ("kept", "contested"):
            with self.book.lock:
                self.book.kept[tick["id"]] = (item["id"], outcome)

    def _release(self, area: dict[str, Any]) -> None:
        told = self._until_told("POST", f"/api/areas/{area['id']}/cover-releases", b"{}")
        if told and "id" in told:
            with self.book.lock:
                self.book.released[told["id"]] = area["id"]

    def _photograph(self, area: dict[str, Any]) -> None:
        item = self.chance.choice(area["items"])["id"]
        told = self._until_told("POST", f"/api/items/{item}/photographs", PICTURE, FORM)
        if told and "id" in told:
            with self.book.lock:
                self.book.pictured[told["id"]] = item

    def _until_told(
        self, method: str, path: str, body: bytes, kind: str = JSON
    ) -> dict[str, Any] | None:
        """Ask with one key until there is an answer; None when it was refused or never came."""
        key = uuid.uuid4().hex
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            status, told = self._call(method, path, body, key, kind)
            if status in (200, 201, 202):
                self._again(method, path, body, key, kind, told)
                return told
            if status in HONEST and status != 503:
                return None
            time.sleep(0.2)
        return None

    def _again(self, method: str, path: str, body: bytes, key: str, kind: str, told: Any) -> None:
        """Now and then the answer did not arrive, and the same call comes to another site."""
        if self.chance.random() < AGAIN:
            status, other = self._call(method, path, body, key, kind)
            if status in (200, 201, 202) and other != told:
                with self.book.lock:
                    self.book.twice.append(f"{method} {path}: {told} and then {other}")

    def _call(
        self, method: str, path: str, data: bytes | None = None, key: str = "", kind: str = JSON
    ) -> tuple[int, dict[str, Any] | None]:
        """One request; 0 when the connection broke, which is no answer."""
        headers = {"Authorization": f"Bearer {self.token}", "Content-Type": kind}
        if key:
            headers |= {"Idempotency-Key": key}
        else:
            headers |= {}
        path = self.chance.choice(self.urls) + path
        request = Request(path, data, headers, method=method)
        try:
            status, text = _answered(request)
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

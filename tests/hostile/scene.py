"""One sequence: the job that it is about, whoever calls, and ids of what stands in the tables."""

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

from inspections.models import Item
from jobs.models import Area, Job
from tests.hostile.values import ABSENT, Dice
from tests.hostile.world import OWNED, STATES, Side, World

WEIGHTS = dict(zip(STATES, (1, 2, 2, 3, 6, 3, 2, 1), strict=True))
JSON, FORM = "application/json", "application/x-www-form-urlencoded"


@dataclass(frozen=True, slots=True)
class Call:
    """One call as it goes over the wire."""

    who: str
    method: str
    path: str
    body: bytes = b""
    kind: str = JSON
    files: dict[str, Any] | None = None
    """A form with files, which Django's client writes as multipart."""
    headers: dict[str, str] = field(default_factory=dict)

    def __str__(self) -> str:
        sent = self.body if self.files is None else repr(self.files).encode()
        text = sent.decode("utf-8", "backslashreplace")
        return f"{self.who}: {self.method} {self.path[:300]} {text[:600]}"


class Scene:
    """Where a sequence is."""

    def __init__(self, world: World, dice: Dice) -> None:
        self.world, self.dice = world, dice
        state = dice.weighed([(weight, state) for state, weight in WEIGHTS.items()])
        self.state, self.side = state, world.ours
        self.job: Job = world.ours.jobs[state]
        self.walked: list[dict[str, Any]] = []
        """Ticks that were sent, so that one comes again."""

    def who(self, usually: str = "office") -> str:
        """Whoever calls: mostly somebody whose act it is."""
        if self.dice.calm or self.dice.often(75):
            return usually
        return self.dice.among(tuple(self.world.clients))

    def id(self, parameter: str) -> str:
        """An id for that place of an address: of the job, of another, of a stranger, of nothing."""
        if parameter == "job_id" and not self.dice.odd(15):
            return str(self.job.id)
        if not self.dice.odd(25):
            return self._own(parameter, self.job) or self._own(parameter) or self.dice.identity()
        other = self.dice.among(tuple(OWNED))
        return (
            self.dice.weighed(
                [
                    (3, self._of(self.world.theirs, parameter)),
                    (1, self._own(parameter)),
                    (1, self._own(other)),
                    (1, self.dice.identity()),
                ]
            )
            or self.dice.identity()
        )

    def _own(self, parameter: str, job: Job | None = None) -> str:
        return self._of(self.side, parameter, job)

    def _of(self, side: Side, parameter: str, job: Job | None = None) -> str:
        found = list(side.found(parameter, job).values_list("pk", flat=True)[:60])
        return str(self.dice.among(found)) if found else ""

    def areas(self) -> list[Area]:
        """The areas of the job; of the stranger's, where it has none."""
        return list(self.job.areas.order_by("code"))

    def code(self) -> Any:
        """The code of an area."""
        if self.dice.odd(15):
            return self.dice.among(("attic", "", " east", "EAST", "east\x00", None, 7, "x" * 41))
        return self.dice.among(("east", "west"))

    def items(self) -> list[Item]:
        """What is on the checklist of the job."""
        return list(self.job.items.filter(current=True).order_by("position"))

    def item(self) -> Item | None:
        """An item, more often one that somebody on site settles."""
        items = self.items()
        looks = [item for item in items if item.verdict == "verify" or item.workmanship]
        some = looks if looks and self.dice.often(70) else items
        return self.dice.among(some) if some else None

    def fingerprint(self, item: Item | None) -> str:
        """Of the facts that a caller saw, or says that they saw."""
        if item is None or self.dice.odd(15):
            return self.dice.among(("0" * 16, "", "zz", "0" * 17, "0123456789abcdeF"))
        return item.fingerprint

    def json(
        self, who: str, method: str, path: str, given: Any, headers: dict[str, str] | None = None
    ) -> Call:
        """A call of the API or of a script; what is ABSENT is left out."""
        sent = _present(given)
        if isinstance(sent, dict) and sent and self.dice.odd(10):
            del sent[self.dice.among(sorted(sent))]
        if isinstance(sent, dict) and self.dice.odd(3):
            sent["strange"] = 1
        body = json.dumps(sent).encode()
        return Call(who, method, path, body, headers=headers or {})

    def form(self, who: str, path: str, given: dict[str, Any], files: Any = None) -> Call:
        """A form of a page, as a browser sends it."""
        sent = {k: _typed(v) for k, v in _present(given).items() if v is not None}
        if files:
            whole = {k: _whole(v) if isinstance(v, str) else v for k, v in sent.items()}
            return Call(who, "POST", path, files={**whole, **files})
        body = urlencode(sent, doseq=True, encoding="utf-8", errors="surrogatepass").encode()
        return Call(who, "POST", path, body, FORM)


def _present(given: Any) -> Any:
    if isinstance(given, dict):
        return {name: _present(v) for name, v in given.items() if v is not ABSENT}
    if isinstance(given, list):
        return [_present(each) for each in given]
    return given


def _whole(text: str) -> str:
    """The text as multipart can carry it: half of a character is none there."""
    return text.encode("utf-8", "replace").decode()


def _typed(value: Any) -> Any:
    """What a browser makes of it."""
    if isinstance(value, bool):
        return "on" if value else ""
    if isinstance(value, list):
        return [str(each) for each in value]
    return str(value) if not isinstance(value, str) else value


Made = Callable[[Scene], Call | Iterable[Call]]
"""What makes the next call of a scene, or several one after another."""

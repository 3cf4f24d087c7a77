"""A reason to tell somebody something, and the registry that finds them all."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Generic, TypeVar
from uuid import UUID

from config.messages.message import Joined, Value
from jobs.models import Person
from notifications.facts import JobFacts
from notifications.messages.inspections import NOTE
from notifications.models import NoticeKind
from notifications.shopfacts import ShopFacts

Facts = TypeVar("Facts", JobFacts, ShopFacts)


@dataclass(frozen=True, slots=True)
class Due:
    """A notice that somebody should get, from a moment on.

    `occasion` tells it from the next time, within its job or shop; it holds no words, so that
    what is said otherwise is not told twice. `at` may lie ahead: the job is looked at again then.
    From `until` on there is no more point in it. While the facts no longer give it, it is moot.
    """

    person: Person
    occasion: str
    text: Value
    at: datetime
    until: datetime | None = None
    urgent: bool = False
    body: tuple[Value, ...] = ()
    """Lines below the text."""
    inspection_id: UUID | None = None

    def stands(self, now: datetime) -> bool:
        """Whether the person should be told now."""
        return self.at <= now and (self.until is None or now < self.until)


@dataclass(frozen=True, slots=True)
class Reason(Generic[Facts]):
    """Why somebody is told: an id, what it is about, and what the facts give."""

    id: str
    kind: NoticeKind
    due: Callable[[Facts], Iterable[Due]]


Registry = dict[str, Reason[Facts]]
_OF_JOBS: Registry[JobFacts] = {}
_OF_SHOPS: Registry[ShopFacts] = {}


def reason(
    reason_id: str, kind: NoticeKind
) -> Callable[[Callable[[JobFacts], Iterable[Due]]], Reason[JobFacts]]:
    """Register the decorated function as a reason that follows from the facts of a job."""
    return _register(_OF_JOBS, reason_id, kind)


def shop_reason(
    reason_id: str, kind: NoticeKind
) -> Callable[[Callable[[ShopFacts], Iterable[Due]]], Reason[ShopFacts]]:
    """Register the decorated function as a reason that follows from a shop as a whole."""
    return _register(_OF_SHOPS, reason_id, kind)


def _register(
    registry: Registry[Facts], reason_id: str, kind: NoticeKind
) -> Callable[[Callable[[Facts], Iterable[Due]]], Reason[Facts]]:
    def register(due: Callable[[Facts], Iterable[Due]]) -> Reason[Facts]:
        if reason_id in _OF_JOBS or reason_id in _OF_SHOPS:
            raise ValueError(f"two reasons are called {reason_id}")
        registry[reason_id] = made = Reason(reason_id, kind, due)
        return made

    return register


def reasons() -> Mapping[str, Reason[JobFacts]]:
    """Every reason about a job, found in the modules of `notifications.reasons`."""
    _find()
    return _OF_JOBS


def shop_reasons() -> Mapping[str, Reason[ShopFacts]]:
    """Every reason about a shop, found there too."""
    _find()
    return _OF_SHOPS


@cache
def _find() -> None:
    from notifications import reasons as package

    for module in iter_modules(package.__path__):
        import_module(f"{package.__name__}.{module.name}")


def due_for(
    people: Iterable[Person],
    occasion: object,
    text: Value,
    at: datetime,
    *,
    until: datetime | None = None,
    urgent: bool = False,
    body: Sequence[Value] = (),
    inspection_id: UUID | None = None,
) -> Iterable[Due]:
    """The same thing for several people, each once."""
    for person in {each.id: each for each in people}.values():
        yield Due(person, str(occasion), text, at, until, urgent, tuple(body), inspection_id)


def with_note(text: Value, note: str) -> Value:
    """A sentence, and after it what somebody noted, if anything."""
    if note:
        return Joined((text, NOTE(note=note)))
    return text

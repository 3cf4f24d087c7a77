"""A reason to tell somebody something, and the registry that finds them all."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from importlib import import_module
from pkgutil import iter_modules

from jobs.models import Job, Membership, Person, Role


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that somebody should be told now. `occasion` tells it from the next time."""

    person: Person
    occasion: str
    text: str


@dataclass(frozen=True, slots=True)
class Reason:
    """Why somebody is told: an id, and what is due for a job now."""

    id: str
    due: Callable[[Job], Iterable[Due]]


_REASONS: dict[str, Reason] = {}


def reason(reason_id: str) -> Callable[[Callable[[Job], Iterable[Due]]], Reason]:
    """Register the decorated function as a reason."""

    def register(due: Callable[[Job], Iterable[Due]]) -> Reason:
        if reason_id in _REASONS:
            raise ValueError(f"two reasons are called {reason_id}")
        made = Reason(reason_id, due)
        _REASONS[reason_id] = made
        return made

    return register


def reasons() -> Mapping[str, Reason]:
    """Every reason, found in the modules of `notifications.reasons`."""
    from notifications import reasons as package

    for module in iter_modules(package.__path__):
        import_module(f"{package.__name__}.{module.name}")
    return _REASONS


def people_of(job: Job, *roles: Role) -> list[Person]:
    """The shop's people in those roles; a contractor's people only of the job's own firm."""
    found = Membership.objects.filter(shop=job.shop_id, role__in=roles).select_related("person")
    return [
        membership.person
        for membership in found
        if membership.role != Role.CONTRACTOR or membership.contractor_id == job.contractor_id
    ]

"""What can be false in the tables, each put there by hand, and the line that must tell of it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta

from audit.found import Sort
from tests.audit.world import World

Put = Callable[[World], object]


@dataclass(frozen=True)
class Hole:
    """One falsification: what is said of it, and how much later the audit comes."""

    name: str
    put: Put
    says: str
    sort: Sort
    later: timedelta


HOLES: list[Hole] = []


def hole(
    name: str, says: str, *, sort: Sort = Sort.DIFFERENCE, later: timedelta = timedelta()
) -> Callable[[Put], Put]:
    """Register a function that falsifies the world; `says` is part of the line that must come."""

    def register(put: Put) -> Put:
        assert all(each.name != name for each in HOLES), f"two holes are called {name}"
        HOLES.append(Hole(name, put, says, sort, later))
        return put

    return register

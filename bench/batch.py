"""Many house files checked at once, in several processes."""

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from typing import TypeVar

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.checker.load import HouseFaults, load_house

CHUNK = 25
"""Houses handed to a process at a time; enough to make the handing over cheap."""

T = TypeVar("T")


def check_batch(
    raws: Iterable[bytes],
    rulebook: str,
    tell: Callable[[House, list[Finding]], T],
    *,
    amendments: str | None = None,
    processes: int = 2,
) -> Iterator[T | str]:
    """What `tell` says of each house in turn, or the faults of a file that holds none.

    `tell` runs beside the check, so that only what it returns comes back: a function of a
    module. Raises RulebookFault before anything is checked.
    """
    load_rulebook(rulebook, amendments)
    one = partial(_one, rulebook=rulebook, amendments=amendments, tell=tell)
    if processes == 1:
        yield from map(one, raws)
        return
    with ProcessPoolExecutor(processes) as pool:
        yield from pool.map(one, raws, chunksize=CHUNK)


def _one(
    raw: bytes,
    *,
    rulebook: str,
    amendments: str | None,
    tell: Callable[[House, list[Finding]], T],
) -> T | str:
    try:
        house = load_house(raw)
    except HouseFaults as faults:
        return str(faults)
    return tell(house, check(house, load_rulebook(rulebook, amendments)))

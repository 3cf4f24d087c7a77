"""How many examples a property is tried on: some in `make test`, all in `make proof`."""

import os
from zlib import crc32

from hypothesis import Phase, settings

whole = False
"""Whether the long proofs run at their whole length; `--whole` sets it."""
most = int(os.environ.get("TEST_EXAMPLES", 0))
"""So many at the most, where tests are run over and over; 0 sets no bound."""


def examples(some: int, every: int, *, shrink: bool = True) -> settings:
    """So many examples, or all of them on a whole run.

    Without `shrink` a failing one is told as it was drawn: where one example takes long.
    """
    count = every if whole else some
    chosen = settings(max_examples=min(count, most) if most else count)
    return chosen if shrink else settings(chosen, phases=set(Phase) - {Phase.shrink})


def in_part(name: str, one_in: int = 4) -> bool:
    """Whether this run tries the case of this name: one case in four, or every case with `--whole`.

    The name alone decides, so each run tries the same ones.
    """
    return whole or crc32(name.encode()) % one_in == 0

"""How many examples a property is tried on: some in `make test`, all in `make proof`."""

import os

from hypothesis import settings

whole = False
"""Whether the long proofs run at their whole length; `--whole` sets it."""
most = int(os.environ.get("TEST_EXAMPLES", 0))
"""So many at the most, where tests are run over and over; 0 sets no bound."""


def examples(some: int, every: int) -> settings:
    """So many examples, or all of them on a whole run."""
    count = every if whole else some
    return settings(max_examples=min(count, most) if most else count)

"""How many examples a property is tried on: some in `make test`, all in `make proof`."""

from hypothesis import settings

whole = False
"""Whether the long proofs run at their whole length; `--whole` sets it."""


def examples(some: int, every: int) -> settings:
    """So many examples, or all of them on a whole run."""
    return settings(max_examples=every if whole else some)

"""How hard the planner looks. Apart from the planner, so that asking for a plan does not load the
solver into a web process.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look."""

    work: float = 4.0
    """Deterministic time of the solver (OR-Tools), for all levels together."""
    seconds: float = 60.0
    """The clock that ends it whatever happens."""
    workers: int = 2
    repeatable: bool = True
    """Whether the workers keep step, so that the same problem gives the same plan."""

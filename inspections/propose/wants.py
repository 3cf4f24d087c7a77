"""What a person wants of a house beside its code: the shop's own habits, each a default."""

from dataclasses import dataclass

from .places import STUD_SPACING_MM


@dataclass(frozen=True, slots=True)
class Wants:
    """How the shop builds. Every figure here is common practice, without a source."""

    stud_spacing_mm: float = STUD_SPACING_MM
    """Counted from the left end of each wall."""
    switch_height_mm: float = 1200.0
    """Where the house does not state one."""
    receptacle_height_mm: float = 300.0
    """The same."""
    outlets_per_circuit: int = 10
    """The most on a general circuit where the code has no figure."""
    home_run_limit_mm: float = 60_000.0
    """A cable longer than this is told with its length, for the drop on it."""


USUAL = Wants()

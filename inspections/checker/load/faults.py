"""A fault in a house file: where it is and what to do about it."""

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HouseFault:
    """One fault, with the path to the value it is about."""

    path: str
    message: str

    def __str__(self) -> str:
        if self.path:
            return f"{self.path}: {self.message}"
        return self.message

    @property
    def order(self) -> tuple[str, ...]:
        """For sorting by path, rooms[2] before rooms[10]."""
        parts = re.split(r"[.\[\]]+", self.path)
        padded = []
        for part in parts:
            padded.append(part.zfill(8) if part.isdigit() else part)
        return tuple(padded)


class HouseFaults(Exception):
    """A house file that cannot be used. Its text has one line per fault."""

    def __init__(self, faults: tuple[HouseFault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(map(str, faults)))


def path_of(parts: tuple[str | int, ...]) -> str:
    """The path as a person reads it: rooms[3].walls[1].length_mm."""
    steps = []
    for part in parts:
        steps.append(f"[{part}]" if isinstance(part, int) else f".{part}")
    text = "".join(steps)
    return text.removeprefix(".")

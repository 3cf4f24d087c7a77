"""A fault in a house file: where it is and what to do about it."""

import re
from dataclasses import dataclass

from config.messages.message import Joined, Text, Value
from config.messages.saying import said

from .fault_messages import AT


@dataclass(frozen=True, slots=True)
class HouseFault:
    """One fault, with the path to the value it is about."""

    path: str
    says: Text
    place: Value | None = None
    """Where a person finds it, where that is not the path."""

    @property
    def message(self) -> str:
        """What is wrong, in English, without the place."""
        return said(self.says)

    @property
    def text(self) -> Text:
        """Where it is and what is wrong."""
        place = self.place or self.path
        if place:
            return AT(place=place, fault=self.says)
        return self.says

    def __str__(self) -> str:
        return said(self.text)

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
        lines: list[Value] = []
        for fault in faults:
            lines.append(fault.text)
        self.text = Joined(tuple(lines), "\n")
        super().__init__(said(self.text))


def path_of(parts: tuple[str | int, ...]) -> str:
    """The path as a person reads it: rooms[3].walls[1].length_mm."""
    steps = []
    for part in parts:
        steps.append(f"[{part}]" if isinstance(part, int) else f".{part}")
    text = "".join(steps)
    return text.removeprefix(".")

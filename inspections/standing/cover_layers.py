"""What may be put over an area, and in which order. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from inspections.standing.age import Sign


@dataclass(frozen=True, slots=True)
class Start:
    """Whether one layer of the cover may start, and what it waits for."""

    layer: str
    may: bool
    waits_for: str = ""


def starts(layers: Sequence[str], sign: Sign, done: Mapping[str, bool]) -> list[Start]:
    """For each layer, the innermost first: may it start?

    All of them conceal wiring, so none may before the area is clear; each waits for the one
    beneath it to be reported done. `done` tells what was reported of each layer.
    """
    found = []
    beneath = ""
    for layer in layers:
        if sign is Sign.HOLD:
            found.append(Start(layer, False, "the area is on hold"))
        elif sign is Sign.UNCHECKED:
            found.append(Start(layer, False, "the area is to be checked again"))
        elif beneath and not done.get(beneath):
            found.append(Start(layer, False, f"{beneath} is not reported done"))
        else:
            found.append(Start(layer, True))
        beneath = layer
    return found


def withdrawn_says(name: str, *, passed: bool) -> str:
    """What is to be known of an area after a look took its release: said where the look was given.

    `passed`: the look was answered since; the release does not come back by itself.
    """
    if passed:
        return f"{name} stays on hold until the office releases it again."
    return (
        f"The cover release of {name} was withdrawn. It stays on hold until the office releases it "
        "again."
    )


def withdrawal_says(names: Sequence[str]) -> str:
    """What recording a fault in released areas does beyond the record, said before it is done."""
    if not names:
        return ""
    return (
        f"This withdraws the cover release of {' and '.join(names)} and tells the builder, the "
        "office and the crew lead."
    )

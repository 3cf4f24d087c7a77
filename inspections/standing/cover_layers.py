"""What may be put over an area, and in which order. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from config.messages.message import Listed, Text, message
from inspections.standing.age import Sign
from inspections.standing.inspection_messages import trade_name

ON_HOLD = message("cover.on-hold", "the area is on hold")
UNCHECKED = message("cover.unchecked", "the area must be checked again")
BENEATH = message("cover.beneath", "{layer} is not reported done")
STAYS = message("cover.stays", "{area} stays on hold until the office releases it again.")
WAS_WITHDRAWN = message(
    "cover.was-withdrawn",
    "The cover release of {area} was withdrawn. {area} stays on hold until the office releases it "
    "again.",
)
WITHDRAWS = message(
    "cover.withdraws",
    "This withdraws the cover release of {areas}. The builder, the office and the crew lead are "
    "notified.",
)


@dataclass(frozen=True, slots=True)
class Start:
    """Whether one layer of the cover may start, and what it waits for."""

    layer: str
    may: bool
    waits_for: Text | None = None


def starts(layers: Sequence[str], sign: Sign, done: Mapping[str, bool]) -> list[Start]:
    """For each layer, the innermost first: may it start?

    All of them conceal wiring, so none may before the area is released; each waits for the one
    beneath it to be reported done. `done` tells what was reported of each layer.
    """
    found = []
    beneath = ""
    for layer in layers:
        if sign is Sign.HOLD:
            found.append(Start(layer, False, ON_HOLD()))
        elif sign is Sign.UNCHECKED:
            found.append(Start(layer, False, UNCHECKED()))
        elif beneath and not done.get(beneath):
            found.append(Start(layer, False, BENEATH(layer=trade_name(beneath))))
        else:
            found.append(Start(layer, True))
        beneath = layer
    return found


def withdrawn_says(name: str, *, passed: bool) -> Text:
    """What is to be known of an area after a look took its release: said where the look was given.

    `passed`: the look was answered since; the release does not come back by itself.
    """
    if passed:
        return STAYS(area=name)
    return WAS_WITHDRAWN(area=name)


def withdrawal_says(names: Sequence[str]) -> Text:
    """What recording a fault in released areas does beyond the record, said before it is done."""
    return WITHDRAWS(areas=Listed(tuple(names)))

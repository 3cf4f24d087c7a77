"""Recessed lights of a house, for the rules about them."""

from collections.abc import Callable, Iterator

from inspections.checker.asking.points import PointWords, point_words
from inspections.checker.asking.visual import Judged, boxes_judged
from inspections.checker.finding import Finding, Rule
from inspections.checker.house.boxes import Box, Recessed
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode

TYPE_IC = point_words(
    "recessed",
    {
        "marked": PointWords(
            wrong="Light {part} is not marked Type IC.",
            ok="Light {part} is marked Type IC.",
            missing="whether light {part} is marked Type IC",
            remedy="Install a Type IC light.",
        ),
    },
)
"""A light that is marked for contact with insulation."""


def recessed_of(box: Box) -> Recessed | None:
    """What was seen of the recessed light at a box, if there is one."""
    for device in box.devices:
        if device.recessed:
            return device.recessed
    return None


def recessed_judged(
    this: Rule,
    site: HouseByCode,
    judge: Callable[[Box, Recessed], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """A finding for the recessed light at each box that has one."""

    def judge_box(box: Box) -> Judged:
        found = recessed_of(box)
        if found:
            return judge(box, found)
        return None

    yield from boxes_judged(this, site, site.house.boxes, judge_box, limits)

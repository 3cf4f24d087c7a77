"""The numbers of findings at their places on the plan."""

from collections.abc import Iterator, Mapping, Sequence

from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.drawing.geometry import Point
from inspections.drawing.marks import Mark, marks_of
from inspections.papers.sheets.house_plan import PlanLabel


def numbers_on_plan(
    house: House, findings: Sequence[Finding], numbers: Mapping[str, int]
) -> list[PlanLabel]:
    """Labels with its number for each finding that has one, where its mark is."""
    numbered: list[Finding] = []
    for finding in findings:
        if finding.key in numbers:
            numbered.append(finding)
    labels: list[PlanLabel] = []
    for mark in marks_of(house, numbered).values():
        labels += _labels(mark, str(numbers[mark.key]))
    return labels


def _labels(mark: Mark, number: str) -> Iterator[PlanLabel]:
    """One label for each room that the mark is in, since another may be on another storey."""
    by_room: dict[str, list[Point]] = {}
    for point, room in zip(mark.points, mark.point_rooms, strict=True):
        by_room.setdefault(room, []).append(point)
    for room, points in by_room.items():
        yield PlanLabel(number, room, tuple(points))
    if mark.stretches or not by_room:
        yield PlanLabel(number, mark.room, stretches=mark.stretches)

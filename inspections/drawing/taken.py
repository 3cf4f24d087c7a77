"""Where on the plan of a storey a photograph lies: at what its check is of, or in its room."""

from .geometry import Point, bounds
from .marks import Mark
from .storey_drawn import StoreyDrawn


def taken_at(drawn: StoreyDrawn, mark: Mark) -> Point | None:
    """A point of the sheet, in mm; None for what is on another storey.

    A place of the storey if the mark has one, the middle of its first stretch, else the middle of
    its room as a whole.
    """
    for point, room in zip(mark.points, mark.point_rooms, strict=True):
        if room in drawn.shown:
            return point
    if mark.room not in drawn.shown:
        return None
    if mark.stretches:
        (ax, ay), (bx, by) = mark.stretches[0]
        return (ax + bx) / 2, (ay + by) / 2
    left, top, width, height = bounds(drawn.floors[mark.room], 0)
    return left + width / 2, top + height / 2

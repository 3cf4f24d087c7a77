"""A counter's back edge as a line: where fixtures part it, and the receptacles along it."""

from collections.abc import Iterator

from inspections.checker.asking.coverage import LeftOutWhy, LineReceptacle
from inspections.checker.asking.receptacles import YES, Counts, count_at_most, for_general_use
from inspections.checker.geometry.floor_line import Doubt, Space
from inspections.checker.geometry.intervals import EPSILON, Interval, complement
from inspections.checker.house.boxes import Box, OnCounter, OnWall
from inspections.checker.house.rooms import Counter, Interruption, InterruptionKind
from inspections.checker.rulebook import Rulebook

NAME = "counter-receptacles"
SURFACE_BEHIND = (InterruptionKind.SINK, InterruptionKind.RANGE, InterruptionKind.COOKTOP)


class CounterLine:
    """The walls behind a counter laid end to end; positions are mm from its left end."""

    def __init__(self, counter: Counter, book: Rulebook) -> None:
        self.counter = counter
        self.book = book
        self.length = sum(stretch.width_mm for stretch in counter.along)

    def wall_at(self, position: float) -> tuple[str, float]:
        """The wall behind a position, and the distance from that wall's left end."""
        stretches = self.counter.along
        for stretch in stretches[:-1]:
            if position < stretch.width_mm - EPSILON:
                return stretch.wall, stretch.at_mm + position
            position -= stretch.width_mm
        return stretches[-1].wall, stretches[-1].at_mm + position

    def spaces(self) -> list[Space]:
        """The counter spaces between fixtures, left to right."""
        cuts: list[Interval] = []
        doubts: list[Doubt] = []
        for item in self.counter.interruptions:
            start, end = item.at_mm, item.at_mm + item.width_mm
            parts = self._parts(item)
            if parts is None:
                doubts.append(Doubt(start, end, "behind", item.kind.value))
            elif parts:
                cuts.append((start, end))
        return [
            Space(
                start,
                end,
                self.wall_at(start)[0],
                number,
                doubts=tuple(sorted(d for d in doubts if start <= d.start and d.end <= end)),
            )
            for number, (start, end) in enumerate(complement(cuts, self.length), 1)
        ]

    def _parts(self, item: Interruption) -> bool | None:
        """Whether a fixture parts the counter; None when the depth behind it is missing."""
        name = "behind_mm"
        if self._in_corner(item):
            name = "behind_corner_mm"
        counted_from = self.book.value(f"{NAME}.{name}")
        if counted_from is None or item.kind not in SURFACE_BEHIND:
            return True
        if item.behind_mm is None:
            return None
        return bool(item.behind_mm < counted_from - EPSILON)

    def _in_corner(self, item: Interruption) -> bool:
        corner, before = 0.0, ""
        for stretch in self.counter.along:
            turned = before and stretch.wall != before
            if turned and item.at_mm < corner - EPSILON < corner < item.at_mm + item.width_mm:
                return True
            corner += stretch.width_mm
            before = stretch.wall
        return False

    def outlets(self, boxes: list[Box]) -> Iterator[LineReceptacle]:
        """The receptacles on the walls behind the counter and on the counter itself."""
        for box in boxes:
            place = box.place
            if isinstance(place, OnWall):
                at = self._position(place)
                if at is not None:
                    yield LineReceptacle(box.id, at, place.height_mm, *self._on_wall(box, place))
            elif isinstance(place, OnCounter) and place.counter == self.counter.id:
                counts, reason = on_top(self.book, box, place)
                if counts is not False and place.at_mm is None:
                    counts, reason = None, (LeftOutWhy.ALONG, None)
                yield LineReceptacle(box.id, place.at_mm or 0.0, place.above_top_mm, counts, reason)

    def _position(self, place: OnWall) -> float | None:
        start = 0.0
        for stretch in self.counter.along:
            along = place.at_mm - stretch.at_mm
            if stretch.wall == place.wall and -EPSILON <= along <= stretch.width_mm + EPSILON:
                return start + along
            start += stretch.width_mm
        return None

    def _on_wall(self, box: Box, place: OnWall) -> Counts:
        if not for_general_use(box):
            return False, (LeftOutWhy.GENERAL, None)
        if place.height_mm is None or self.counter.top_mm is None:
            return None, (LeftOutWhy.ABOVE, None)
        above = place.height_mm - self.counter.top_mm
        if above < -EPSILON:
            return False, (LeftOutWhy.BELOW, -above)
        return count_at_most(above, self.book.value(f"{NAME}.max_above_mm"), LeftOutWhy.ABOVE)

    def behind_sinks(
        self, outlets: list[LineReceptacle]
    ) -> Iterator[tuple[LineReceptacle, Interruption]]:
        """Each receptacle on the wall straight behind a sink."""
        for item in self.counter.interruptions:
            if item.kind is InterruptionKind.SINK:
                for outlet in outlets:
                    if item.at_mm < outlet.at < item.at_mm + item.width_mm:
                        yield outlet, item


def on_top(book: Rulebook, box: Box, place: OnCounter) -> Counts:
    """Whether a receptacle in or above a counter's top serves it."""
    if not for_general_use(box):
        return False, (LeftOutWhy.GENERAL, None)
    above = place.above_top_mm
    if above is None:
        return None, (LeftOutWhy.ABOVE, None)
    if above < 0:
        return False, (LeftOutWhy.BELOW, -above)
    if above == 0:
        faces_up = book.value(f"{NAME}.face_up", True)
        if faces_up:
            return YES
        return False, (LeftOutWhy.FACE_UP, None)
    return count_at_most(above, book.value(f"{NAME}.max_above_mm"), LeftOutWhy.ABOVE)

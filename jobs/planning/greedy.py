"""A first plan, made by placing one thing after another where it ends earliest."""

from collections.abc import Iterator

from .lengths import CrewOption, Lengths
from .measure import cost
from .order import dispatch_order
from .problem import Activity, CrewSlots, Placement, PlannedInspection, Problem, Task, drive_share


def first_plan(problem: Problem, lengths: Lengths) -> dict[str, Placement]:
    """A plan that keeps every rule; what does not fit is left out.

    Where people were told a plan, it is made from that plan as well, and the better one taken.
    """
    plans = [_Placing(problem, lengths).all()]
    if any(each.told and each.told.slot is not None for each in problem.activities):
        for shifting in (False, True):
            repaired = _Placing(problem, lengths)
            repaired.reserve(shifting)
            plans.append(repaired.all())
    return min(plans, key=lambda placed: cost(problem, placed))


class _Placing:
    def __init__(self, problem: Problem, lengths: Lengths) -> None:
        self.problem, self.lengths = problem, lengths
        self.busy = {crew.id: bytearray(problem.size) for crew in problem.crews}
        self.used = {name: [0] * (problem.size + 1) for name in problem.shared}
        self.placed: dict[str, Placement] = {}
        self.kept_for: dict[str, str] = {}
        """Booked inspections: the crew whose slot is kept for them."""
        self.reserved: dict[str, Placement] = {}
        """What is where people were told, until it turns out that it cannot be."""

    def reserve(self, shifting: bool) -> None:
        """Hold for everything the place that people were told, where its crew can still do it;
        `shifting`: as soon after as it can, so that what follows gives way in turn.
        """
        for start, crew, each in self._told():
            booked = isinstance(each, PlannedInspection) and each.booked is not None
            stop = start + 1
            if shifting and not booked:
                stop = self.problem.size
            for option in self.lengths.options[each.id]:
                if option.crew is None or option.crew.id != crew:
                    continue
                if spot := self._first_free(each, option, range(start, stop)):
                    self.reserved[each.id] = spot
                    self._mark(each, spot, 1)

    def _told(self) -> list[tuple[int, str, Activity]]:
        """The slot and the crew that people were told of each thing, the first of them first;
        an inspection that is booked for another slot by now is left out.
        """
        told = []
        for each in self.problem.activities:
            if not each.told or each.told.slot is None:
                continue
            if isinstance(each, PlannedInspection) and each.booked not in (None, each.told.slot):
                continue
            told.append((each.told.slot, each.told.crew, each))
        return sorted(told, key=lambda one: (one[0], one[2].id))

    def _first_free(self, each: Activity, option: CrewOption, starts: range) -> Placement | None:
        """Where its crew and all that it takes is free, at the first of these starts."""
        crew = ""
        if option.crew:
            crew = option.crew.id
        for start in starts:
            if start in option.ends and self._free(each, crew, start, option):
                return Placement(start, option.ends[start], crew)
        return None

    def all(self) -> dict[str, Placement]:
        """Keep slots for booked inspections, then place everything in order of urgency."""
        for inspection in self.problem.inspections:
            if inspection.id in self.reserved:
                continue
            if inspection.booked is not None and inspection.booked < self.problem.size:
                self._keep(inspection, inspection.booked)
        for each in dispatch_order(self.problem):
            ready = self._ready(each)
            if ready is None:
                self._release(each)
                continue
            spot = self._as_reserved(each, ready) or self._anew(each, ready)
            if spot is not None:
                self._put(each, spot)
        return self.placed

    def _ready(self, each: Activity) -> int | None:
        """When all that it waits for has ended; None while some of that does not fit."""
        ready = 0
        for before in each.after:
            spot = self.placed.get(before)
            if spot is None:
                return None
            ready = max(ready, spot.end)
        return ready

    def _as_reserved(self, each: Activity, ready: int) -> Placement | None:
        """The place that was held for it, given back, if it can still be there."""
        spot = self.reserved.pop(each.id, None)
        if spot is None:
            return None
        self._mark(each, spot, -1)
        if self._still(each, spot, ready):
            return spot
        return None

    def _anew(self, each: Activity, ready: int) -> Placement | None:
        if isinstance(each, PlannedInspection):
            return self._inspection(each, ready)
        return self._task(each, ready)

    def _keep(self, inspection: PlannedInspection, slot: int) -> None:
        free = []
        for option in self.lengths.options[inspection.id]:
            if option.crew and slot in option.ends and not self.busy[option.crew.id][slot]:
                free.append(option.crew)
        if free:
            crew = min(free, key=lambda crew: self._liking(inspection, crew, slot))
            self.kept_for[inspection.id] = crew.id
            self.busy[crew.id][slot] = 1

    def _still(self, each: Activity, spot: Placement, ready: int) -> bool:
        """Whether it can be where people were told, now that what comes before it is placed."""
        if isinstance(each, Task):
            return spot.start >= max(ready, each.earliest)
        if each.booked is not None:
            return ready <= each.booked
        return spot.start >= self._first(each, ready)

    def _release(self, each: Activity) -> None:
        if spot := self.reserved.pop(each.id, None):
            self._mark(each, spot, -1)
        if (
            isinstance(each, PlannedInspection)
            and each.id in self.kept_for
            and each.booked is not None
        ):
            self.busy[self.kept_for.pop(each.id)][each.booked] = 0

    def _inspection(self, inspection: PlannedInspection, ready: int) -> Placement | None:
        if (
            inspection.id in self.kept_for
            and inspection.booked is not None
            and ready <= inspection.booked
        ):
            return Placement(inspection.booked, inspection.booked + 1, self.kept_for[inspection.id])
        self._release(inspection)
        return self._earliest(inspection, self._first(inspection, ready))

    def _first(self, inspection: PlannedInspection, ready: int) -> int:
        """The first slot in which an inspection can be that is not kept as booked."""
        first = ready
        if inspection.notice:
            if ready < len(inspection.notice):
                first = inspection.notice[ready]
            else:
                first = self.problem.beyond
        if inspection.booked is not None:
            first = max(first, inspection.booked + 1)
        return max(first, ready)

    def _task(self, task: Task, ready: int) -> Placement | None:
        return self._as_told(task, ready) or self._earliest(task, max(ready, task.earliest))

    def _as_told(self, task: Task, ready: int) -> Placement | None:
        """What people were told, while it can be had."""
        if task.told is None:
            return None
        first = max(task.told.day * self.problem.parts, ready, task.earliest)
        last = (task.told.day + 1) * self.problem.parts
        for option in self.lengths.options[task.id]:
            if option.crew is None or option.crew.id != task.told.crew:
                continue
            if spot := self._first_free(task, option, range(first, last)):
                return spot
        return None

    def _earliest(self, each: Activity, first: int) -> Placement | None:
        best: tuple[tuple[int, ...], Placement] | None = None
        for number, option in enumerate(self.lengths.options[each.id]):
            stop = self.problem.size + 1
            if best is not None and best[0][0] > first:
                stop = min(stop, best[0][0])
            spot = self._first_free(each, option, range(first, stop))
            if spot is None:
                continue
            liking: tuple[int, ...] = ()
            if option.crew:
                liking = self._liking(each, option.crew, spot.start)
            rank = (spot.end, *liking, number)
            if best is None or rank < best[0]:
                best = (rank, spot)
        if best:
            return best[1]
        return None

    def _liking(self, each: Activity, crew: CrewSlots, start: int) -> tuple[int, ...]:
        told = each.told
        as_told = told is not None and told.crew == crew.id
        drive = drive_share(self.problem, crew, each.house)
        return (0 if as_told else 1, drive, -start)

    def _free(self, each: Activity, crew: str, start: int, option: CrewOption) -> bool:
        end = option.ends[start]
        if crew and any(self.busy[crew][start:end]):
            return False
        for name, much in _uses(each):
            for slot in range(start, end):
                if not (self.used[name][slot] + much <= self.problem.shared[name]):
                    return False
        return True

    def _put(self, each: Activity, found: Placement) -> None:
        self.placed[each.id] = found
        self._mark(each, found, 1)

    def _mark(self, each: Activity, found: Placement, sign: int) -> None:
        """Take what it needs, or give it back."""
        for slot in range(found.start, found.end):
            if found.crew:
                self.busy[found.crew][slot] = sign > 0
            for name, much in _uses(each):
                self.used[name][slot] += sign * much


def _uses(each: Activity) -> Iterator[tuple[str, int]]:
    if isinstance(each, Task):
        yield from each.uses.items()

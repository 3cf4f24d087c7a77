"""A good first schedule of a project with shared things: serial generation, then pushed to the
right and to the left again (forward-backward improvement: T. Tormos and A. Lova, Annals of
Operations Research 102, 2001), from several orders, the best one kept.
"""

from collections.abc import Sequence
from random import Random

WORK = 6000
"""About how many jobs are placed for one schedule to start from."""


class Project:
    """Durations, who waits for whom, and how much each job takes of what there is."""

    def __init__(
        self,
        durations: Sequence[int],
        successors: Sequence[Sequence[int]],
        demands: Sequence[Sequence[int]],
        capacities: Sequence[int],
    ) -> None:
        self.durations, self.capacities = durations, capacities
        self.after = list(map(list, successors))
        self.before: list[list[int]] = [[] for _ in durations]
        for number, later in enumerate(self.after):
            for each in later:
                self.before[each].append(number)
        self.uses: list[list[tuple[int, int]]] = []
        for demand in demands:
            self.uses.append([(resource, much) for resource, much in enumerate(demand) if much])
        self.horizon = sum(durations) + 1
        self.tails = self._tails()

    def _tails(self) -> list[int]:
        """For each job the longest way from its start to the end of the project."""
        tails = [0] * len(self.durations)
        for number in reversed(self._sorted()):
            behind = []
            for later in self.after[number]:
                behind.append(tails[later])
            longest = max(behind, default=0)
            tails[number] = self.durations[number] + longest
        return tails

    def _sorted(self) -> list[int]:
        counts = []
        for each in self.before:
            counts.append(len(each))
        ready = []
        for number, count in enumerate(counts):
            if not count:
                ready.append(number)
        for number in ready:
            for later in self.after[number]:
                counts[later] -= 1
                if not counts[later]:
                    ready.append(later)
        return ready

    def forward(self, order: Sequence[int]) -> list[int]:
        """Each job in turn as early as can be; `order` keeps predecessors first."""
        return self._place(order, self.before)

    def backward(self, starts: Sequence[int]) -> list[int]:
        """Each job as late as can be, the last to end first; then all moved to begin at 0."""
        ends = []
        for number, start in enumerate(starts):
            ends.append(start + self.durations[number])
        order = self.keeping(sorted(range(len(ends)), key=lambda n: (-ends[n], n)), self.after)
        mirrored = self._place(order, self.after)
        mirrored_ends = []
        for n in order:
            mirrored_ends.append(mirrored[n] + self.durations[n])
        last = max(mirrored_ends)
        turned: list[int] = []
        for n in range(len(ends)):
            turned.append(last - mirrored[n] - self.durations[n])
        return turned

    def keeping(self, order: Sequence[int], before: Sequence[Sequence[int]]) -> list[int]:
        """The order, with whatever must come before a job moved ahead of it."""
        found: dict[int, None] = {}
        for root in order:
            stack = [root]
            while stack:
                top = stack[-1]
                missing = []
                for each in before[top]:
                    if each not in found:
                        missing.append(each)
                if missing:
                    stack += missing
                else:
                    found[stack.pop()] = None
        return list(found)

    def _place(self, order: Sequence[int], before: Sequence[Sequence[int]]) -> list[int]:
        free = []
        for capacity in self.capacities:
            free.append([capacity] * (self.horizon + 1))
        ends = [0] * len(self.durations)
        starts = [0] * len(self.durations)
        for number in order:
            ends_before = []
            for each in before[number]:
                ends_before.append(ends[each])
            start = max(ends_before, default=0)
            length = self.durations[number]
            start = self._first(free, self.uses[number], start, length)
            for resource, much in self.uses[number]:
                row = free[resource]
                for slot in range(start, start + length):
                    row[slot] -= much
            starts[number], ends[number] = start, start + length
        return starts

    @staticmethod
    def _first(
        free: list[list[int]], uses: Sequence[tuple[int, int]], start: int, length: int
    ) -> int:
        """The first slot from which all that it takes is free long enough."""
        slot = start
        while slot < start + length:
            if any(free[resource][slot] < much for resource, much in uses):
                start = slot + 1
            slot += 1
        return start


def schedule(project: Project) -> list[int]:
    """When each job begins, in the best schedule that was met."""
    chance = Random(20_260_102)
    count = len(project.durations)
    best: list[int] = []
    length = project.horizon
    for round_ in range(max(4, WORK // max(1, count))):
        blur = 0.35
        if not round_:
            blur = 0.0
        ranks = []
        for tail in project.tails:
            ranks.append(tail * (1 + blur * (chance.random() - 0.5)))
        order = sorted(range(count), key=lambda n: (-ranks[n], n))
        starts = project.forward(project.keeping(order, project.before))
        starts = _pushed(project, starts)
        end = _end(project, starts)
        if end < length:
            best, length = starts, end
    return best


def _end(project: Project, starts: list[int]) -> int:
    """When the last job ends."""
    return max(start + project.durations[n] for n, start in enumerate(starts))


def _pushed(project: Project, starts: list[int]) -> list[int]:
    """To the right and to the left again, as long as that makes it shorter."""
    length = project.horizon
    while (now := _end(project, starts)) < length:
        length = now
        late = project.backward(starts)
        order = sorted(range(len(late)), key=lambda n: (late[n], n))
        pushed = project.forward(project.keeping(order, project.before))
        if _end(project, pushed) <= length:
            starts = pushed
    return starts

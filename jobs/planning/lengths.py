"""How long a crew takes for a task from each slot on."""

from collections.abc import Collection
from dataclasses import dataclass

from .problem import CrewSlots, PlannedInspection, Problem, Task, drive_share


@dataclass(frozen=True, slots=True)
class CrewOption:
    """A crew (None: none of the shop's) that could do something, and when that would end."""

    crew: CrewSlots | None
    ends: dict[int, int]
    """By the slot in which it starts: the slot at whose start it has ended."""

    def by_length(self) -> dict[int, list[int]]:
        """The starts, by how many slots it would last."""
        found: dict[int, list[int]] = {}
        for start, end in self.ends.items():
            found.setdefault(end - start, []).append(start)
        return found


class Lengths:
    """The options of the tasks and inspections of a problem, or of some of them."""

    def __init__(self, problem: Problem, only: Collection[str] | None = None) -> None:
        self.problem = problem
        self._known: dict[tuple[str, str, int, int], dict[int, int]] = {}
        self.options: dict[str, list[CrewOption]] = {}
        for each in problem.activities:
            if only is None or each.id in only:
                self.options[each.id] = self._options(each)

    def _options(self, what: Task | PlannedInspection) -> list[CrewOption]:
        if isinstance(what, PlannedInspection):
            return self._attending(what)
        if not what.minutes:
            return [CrewOption(None, self._uncrewed(what))]
        options: list[CrewOption] = []
        for crew in self.problem.crews:
            if what.only and crew.id not in what.only:
                continue
            ends = {}
            for start, end in self._ends(crew, what).items():
                if start >= what.earliest:
                    ends[start] = end
            if ends:
                options.append(CrewOption(crew, ends))
        return options

    def _uncrewed(self, task: Task) -> dict[int, int]:
        """When what no crew of the shop does would end, by its start."""
        last = self.problem.size - task.slots
        ends: dict[int, int] = {}
        for start in range(task.earliest, last + 1):
            ends[start] = start + task.slots
        return ends

    def _attending(self, inspection: PlannedInspection) -> list[CrewOption]:
        """An inspection lasts one slot."""
        slots = []
        for slot in range(self.problem.size):
            if _may_be_in(inspection, slot):
                slots.append(slot)
        options: list[CrewOption] = []
        for crew in self.problem.crews:
            ends = {}
            for slot in slots:
                if crew.able("", slot):
                    ends[slot] = slot + 1
            if ends:
                options.append(CrewOption(crew, ends))
        return options

    def _ends(self, crew: CrewSlots, task: Task) -> dict[int, int]:
        share = drive_share(self.problem, crew, task.house)
        key = (crew.id, task.skill, share, task.minutes)
        if key not in self._known:
            self._known[key] = _ends(self._rates(crew, task.skill, share), task.minutes)
        return self._known[key]

    def _rates(self, crew: CrewSlots, skill: str, share: int) -> list[int]:
        """Person-minutes that the crew gets done in each slot."""
        useful = max(0, self.problem.minutes - share)
        rates: list[int] = []
        for slot in range(self.problem.size):
            rates.append(crew.hands[slot] * useful if crew.able(skill, slot) else 0)
        return rates


def _may_be_in(inspection: PlannedInspection, slot: int) -> bool:
    """Whether the authority would come then: as booked, or later in one of its windows."""
    if slot == inspection.booked:
        return True
    if inspection.booked is not None and slot < inspection.booked:
        return False
    return inspection.windows is None or slot in inspection.windows


def _ends(rates: list[int], minutes: int) -> dict[int, int]:
    ends: dict[int, int] = {}
    end, done = 0, 0
    for start, rate in enumerate(rates):
        if end < start:
            end, done = start, 0
        while done < minutes and end < len(rates):
            done += rates[end]
            end += 1
        if done < minutes:
            break
        if rate:
            ends[start] = end
        done -= rate
    return ends

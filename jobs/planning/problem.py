"""What the planner is given and what it gives back, as values.

Time is counted in slots: the working days of the coming weeks in order, each parted into
`parts` (2: half days). Slot 0 is the first part of the first day.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from config.messages.message import Value

PRODUCTIVE = 240
"""Minutes of a slot when nothing else is said: half of an eight-hour day."""


@dataclass(frozen=True, slots=True)
class CrewSlots:
    """Who can work in each slot, as one crew."""

    id: str
    name: str
    hands: tuple[int, ...]
    """How many of its people count in each slot; 0 while it is away."""
    skilled: Mapping[str, tuple[bool, ...]] = field(default_factory=dict)
    """For each skill, in which slots somebody of the crew has it."""
    drive: Mapping[str, int] = field(default_factory=dict)
    """Minutes from where the crew starts to each house; a house not named is next door."""

    def able(self, skill: str, slot: int) -> bool:
        """Whether it can do work of that skill then."""
        return self.hands[slot] > 0 and (not skill or bool(self._skilled(skill, slot)))

    def _skilled(self, skill: str, slot: int) -> bool:
        return skill in self.skilled and self.skilled[skill][slot]


@dataclass(frozen=True, slots=True)
class ToldAssignment:
    """What people were told of a task: the crew and the day, by its number."""

    crew: str
    day: int
    slot: int | None = None
    """The slot in which it began in the plan that was told."""


@dataclass(frozen=True, slots=True)
class Task:
    """Work on one house, done by one crew without other work between; it rests while the crew
    has no hands or lacks the skill.
    """

    id: str
    name: Value
    house: str = ""
    minutes: int = 0
    """Person-minutes of a crew's work."""
    slots: int = 0
    """Length in slots of what no crew of the shop does: another trade's work."""
    skill: str = ""
    after: tuple[str, ...] = ()
    """Tasks and inspections that must have ended."""
    earliest: int = 0
    uses: Mapping[str, int] = field(default_factory=dict)
    """How much it takes of each shared thing (`Problem.shared`) while it lasts."""
    only: frozenset[str] = frozenset()
    """The crews that may do it; any when empty."""
    told: ToldAssignment | None = None
    because: Value = ""
    """Why it is not earlier than `earliest`."""
    house_name: str = ""


@dataclass(frozen=True, slots=True)
class PlannedInspection:
    """An inspection. One of a crew is on site, and the crew does nothing else then."""

    id: str
    name: Value
    house: str = ""
    after: tuple[str, ...] = ()
    """What must be done before the inspector can pass it."""
    notice: tuple[int, ...] = ()
    """For each slot r from 0 to the last: asked when the work before is done at the start of r,
    the first slot in which the inspection can be; past the last slot when there is none."""
    windows: frozenset[int] | None = None
    """Slots in which the authority inspects; None: any."""
    booked: int | None = None
    told: ToldAssignment | None = None
    words: Value = ""
    """The authority's notice, as a sentence."""
    house_name: str = ""


Activity = Task | PlannedInspection


@dataclass(frozen=True, slots=True)
class Promise:
    """A date given to somebody: what must have ended when slot `by` begins."""

    id: str
    name: Value
    needs: tuple[str, ...]
    by: int
    weight: int = 1
    house: str = ""
    house_name: str = ""


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything that a plan follows from."""

    size: int
    """How many slots there are."""
    parts: int = 2
    """Slots of a day."""
    minutes: int = PRODUCTIVE
    """Working minutes of a slot."""
    crews: tuple[CrewSlots, ...] = ()
    tasks: tuple[Task, ...] = ()
    inspections: tuple[PlannedInspection, ...] = ()
    promises: tuple[Promise, ...] = ()
    shared: Mapping[str, int] = field(default_factory=dict)
    """Things of which there are only so many: a lift, a generator."""
    change_cost: int = 0
    """What moving one told task must save, in weighted days late; 0: any saving moves it."""

    @property
    def beyond(self) -> int:
        """Where whatever does not fit is put: a day past the last slot."""
        return self.size + self.parts

    @property
    def activities(self) -> tuple[Activity, ...]:
        """Tasks, then inspections."""
        return (*self.tasks, *self.inspections)


@dataclass(frozen=True, slots=True)
class Placement:
    """When something is, and which crew does or attends it (empty: no crew of the shop)."""

    start: int
    end: int
    crew: str = ""


@dataclass(frozen=True, slots=True)
class Level:
    """One thing that is minimised, with what was reached and what was proven."""

    name: str
    value: int
    bound: int

    @property
    def gap(self) -> float:
        """How far the value may be above the best possible, as a share of the value."""
        if self.value > self.bound:
            return (self.value - self.bound) / self.value
        return 0.0


@dataclass(frozen=True, slots=True)
class Schedule:
    """Where everything is, and how good that is proven to be."""

    placed: Mapping[str, Placement]
    """By id; what is not in it does not fit the weeks that were given."""
    levels: tuple[Level, ...]
    """What was minimised, the most important first."""
    cut_short: bool = False
    """Whether the clock ended the search, so that another run might end elsewhere."""

    @property
    def gap(self) -> float:
        """The gap of the first level that is not proven best; 0 when all are."""
        for level in self.levels:
            if level.value > level.bound:
                return level.gap
        return 0.0


def drive_share(problem: Problem, crew: CrewSlots, house: str) -> int:
    """Minutes of driving in each slot at a house: there and back once a day, spread evenly."""
    return 2 * crew.drive.get(house, 0) // problem.parts


def days_late(problem: Problem, promise: Promise, placed: Mapping[str, Placement]) -> int:
    """Working days by which a promise is missed; what does not fit counts from past the end."""
    ends = []
    for need in promise.needs:
        ends.append(placed[need].end if need in placed else problem.beyond)
    over = max(ends, default=0) - promise.by
    return max(0, -(-over // problem.parts))

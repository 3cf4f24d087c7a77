"""An invented shop of any size for measuring the planner: houses, crews, promises."""

from random import Random

from jobs.planning.problem import CrewSlots, PlannedInspection, Problem, Promise, Task

PARTS = 2
NOTICE_DAYS = 2
COVER_SLOTS = 10


def bench_shop(houses: int = 40, crews: int = 12, weeks: int = 8, seed: int = 1) -> Problem:
    """Houses that begin over the first half of the weeks, about three fifths of what the crews can
    do before driving, some promises given too early to hold.
    """
    chance = Random(seed)
    days = 5 * weeks
    size = days * PARTS
    names = []
    for number in range(houses):
        names.append(f"h{number}")
    tasks: list[Task] = []
    inspections: list[PlannedInspection] = []
    promises: list[Promise] = []
    mins = []
    for slot in range(size + 1):
        mins.append(min(size, (slot // PARTS + NOTICE_DAYS) * PARTS))
    notice = tuple(mins)
    for name in names:
        begins = int(chance.random() * days * 0.5) * PARTS
        _house(chance, name, begins, notice, tasks, inspections, promises)
    found = []
    for number in range(crews):
        found.append(_crew(chance, number, days, names))
    team = tuple(found)
    return Problem(size, PARTS, 240, team, tuple(tasks), tuple(inspections), tuple(promises))


def _crew(chance: Random, number: int, days: int, houses: list[str]) -> CrewSlots:
    hands = [chance.choice([2, 2, 3])] * (days * PARTS)
    for _ in range(chance.randint(0, 2)):
        day = chance.randrange(days - 2)
        for slot in range(day * PARTS, (day + 1) * PARTS):
            hands[slot] -= 1
    licensed = [True] * (days * PARTS)
    if chance.random() < 0.3:
        day = chance.randrange(days)
        licensed[day * PARTS : (day + 1) * PARTS] = [False] * PARTS
    drive = {}
    for house in houses:
        drive[house] = chance.randint(5, 40)
    name = f"c{number}"
    return CrewSlots(name, f"Crew {number}", tuple(hands), {"licensed": tuple(licensed)}, drive)


def _house(
    chance: Random,
    name: str,
    begins: int,
    notice: tuple[int, ...],
    tasks: list[Task],
    inspections: list[PlannedInspection],
    promises: list[Promise],
) -> None:
    def add(key: str, minutes: int, after: tuple[str, ...] = (), skill: str = "") -> str:
        task = Task(f"{name}{key}", f"{name}: {key}", name, minutes, 0, skill, after, begins)
        tasks.append(task)
        return task.id

    areas = range(chance.randint(2, 3))
    rough = []
    for area in areas:
        rough.append(add(f"rough-in {area}", chance.randint(840, 3200)))
    rough.append(add("panel", chance.randint(360, 840), skill="licensed"))
    first = PlannedInspection(
        f"{name}inspection", f"{name}: rough-in visit", name, tuple(rough), notice
    )
    inspections.append(first)
    days = chance.randint(2, 14)  # two days are never enough: a day's work and the notice
    weight = chance.choice([1, 1, 2, 3])
    by = begins + days * PARTS
    promises.append(Promise(f"{name}d", f"{name}: drywall", (first.id,), by, weight, name))
    cover = Task(f"{name}cover", f"{name}: cover", name, slots=COVER_SLOTS, after=(first.id,))
    tasks.append(cover)
    adds = []
    for area in areas:
        adds.append(add(f"finish {area}", chance.randint(480, 1440), (cover.id,)))
    finish = tuple(adds)
    energise = add("energise", 360, finish, "licensed")
    walk = add("walk", 150, (energise,))
    last = PlannedInspection(f"{name}final", f"{name}: final visit", name, (walk,), notice)
    inspections.append(last)
    by = begins + chance.randint(24, 34) * PARTS
    promises.append(Promise(f"{name}f", f"{name}: final", (last.id,), by, weight, name))

"""The order in which things can be done, and how urgent each is."""

from collections.abc import Iterable, Mapping
from heapq import heapify, heappop, heappush

from .problem import Activity, PlannedInspection, Problem, Task


def followers(activities: Iterable[Activity]) -> dict[str, list[str]]:
    """What waits for each."""
    following: dict[str, list[str]] = {}
    for each in activities:
        following[each.id] = []
    for each in activities:
        for before in each.after:
            following[before].append(each.id)
    return following


def circle(activities: Iterable[Activity]) -> list[str]:
    """The ids of one circle of predecessors, in order; empty when there is none."""
    before = {}
    for each in activities:
        before[each.id] = list(each.after)
    state: dict[str, int] = {}
    for root in before:
        trail: list[str] = []
        stack = []
        if root not in state:
            stack = [(root, iter(before[root]))]
        if stack:
            state[root], trail = 1, [root]
        while stack:
            _node, rest = stack[-1]
            following = next(rest, None)
            if following is None:
                state[trail.pop()] = 2
                stack.pop()
            elif state.get(following) == 1:
                return [*trail[trail.index(following) :], following][::-1]
            elif following not in state and following in before:
                state[following] = 1
                trail.append(following)
                stack.append((following, iter(before[following])))
    return []


def dispatch_order(problem: Problem) -> list[Activity]:
    """Everything after what it waits for; among what could be next, the most urgent first."""
    by_id = {}
    for each in problem.activities:
        by_id[each.id] = each
    after = followers(problem.activities)
    urgent = urgency(problem, by_id, after)
    place = {}
    for number, each in enumerate(problem.activities):
        place[each.id] = number
    open_ends = {}
    for each in problem.activities:
        open_ends[each.id] = len(set(each.after))
    ready = [(urgent[name], place[name], name) for name, count in open_ends.items() if not count]
    heapify(ready)
    found = []
    while ready:
        name = heappop(ready)[2]
        found.append(by_id[name])
        for later in dict.fromkeys(after[name]):
            open_ends[later] -= 1
            if not open_ends[later]:
                heappush(ready, (urgent[later], place[later], later))
    return found


def urgency(
    problem: Problem, by_id: Mapping[str, Activity], after: Mapping[str, list[str]]
) -> dict[str, tuple[int, int]]:
    """For each: the latest slot to end so that every promise holds, were nobody else in the
    way; then the longest work still to follow, as a negative number.
    """
    latest = dict.fromkeys(by_id, problem.beyond)
    for promise in problem.promises:
        for need in promise.needs:
            latest[need] = min(latest[need], promise.by)
    follow = dict.fromkeys(by_id, 0)
    hands = max((max(crew.hands, default=0) for crew in problem.crews), default=1) or 1
    for name in reversed(_sorted(by_id, after)):
        for later in after[name]:
            length = _length(by_id[later], problem, hands)
            latest[name] = min(latest[name], latest[later] - length)
            follow[name] = max(follow[name], follow[later] + length)
    urgencies: dict[str, tuple[int, int]] = {}
    for name in by_id:
        urgencies[name] = (latest[name], -follow[name])
    return urgencies


def _length(each: Activity, problem: Problem, hands: int) -> int:
    """Slots that it takes at least, with its notice."""
    if isinstance(each, PlannedInspection):
        return 1 + (each.notice[0] if each.notice else 0)
    if isinstance(each, Task) and not each.minutes:
        return each.slots
    return -(-each.minutes // (hands * problem.minutes))


def _sorted(by_id: Mapping[str, Activity], after: Mapping[str, list[str]]) -> list[str]:
    counts = {}
    for name, each in by_id.items():
        counts[name] = len(set(each.after))
    ready = []
    for name, count in counts.items():
        if not count:
            ready.append(name)
    for name in ready:
        for later in dict.fromkeys(after[name]):
            counts[later] -= 1
            if not counts[later]:
                ready.append(later)
    return ready

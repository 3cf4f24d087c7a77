"""From people to crews: who counts on which day."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import asin, cos, radians, sin, sqrt

EARTH_KM = 6371.0  # mean radius


@dataclass(frozen=True, slots=True)
class Worker:
    """A person as planning sees one."""

    id: str
    name: str
    licensed: bool = False
    apprentice: bool = False
    away: Collection[tuple[date, date]] = ()
    """First and last day of each absence."""

    def is_away(self, day: date) -> bool:
        """Whether the person is away that day."""
        for first, last in self.away:
            if first <= day <= last:
                return True
        return False


@dataclass(frozen=True, slots=True)
class CrewStint:
    """A person in a crew from one day to another."""

    crew: str
    person: str
    from_day: date
    to_day: date | None = None

    def holds(self, day: date) -> bool:
        """Whether it is in force that day."""
        return self.from_day <= day and (self.to_day is None or day <= self.to_day)


def present(
    crew: str, day: date, places: Sequence[CrewStint], workers: Mapping[str, Worker]
) -> list[Worker]:
    """Who is in a crew that day and not away. A person is in one crew: the place that began
    last.
    """
    where: dict[str, CrewStint] = {}
    for place in places:
        kept = where.get(place.person)
        if place.holds(day) and (kept is None or place.from_day >= kept.from_day):
            where[place.person] = place
    at_work: list[Worker] = []
    for name, place in where.items():
        if place.crew == crew and not workers[name].is_away(day):
            at_work.append(workers[name])
    return at_work


def hands(people: Sequence[Worker], apprentices_per_licensed: int | None) -> int:
    """How many of these people count. Apprentices above the ratio that the shop keeps do not:
    there is nobody to supervise them.
    """
    licensed = sum(each.licensed for each in people)
    apprentices = sum(each.apprentice and not each.licensed for each in people)
    others = len(people) - licensed - apprentices
    if apprentices_per_licensed is not None:
        apprentices = min(apprentices, licensed * apprentices_per_licensed)
    return licensed + apprentices + others


def straight_minutes(start: tuple[float, float], end: tuple[float, float], speed_kmh: float) -> int:
    """Minutes over the straight line between two places (degrees, WGS 84) at that speed, by the
    haversine formula; up to the next whole minute.
    """
    (lat1, lon1), (lat2, lon2) = [(radians(a), radians(b)) for a, b in (start, end)]
    chord = sin((lat2 - lat1) / 2) ** 2 + cos(lat1) * cos(lat2) * sin((lon2 - lon1) / 2) ** 2
    km = 2 * EARTH_KM * asin(min(1.0, sqrt(chord)))
    return int(-(-km * 60 // speed_kmh))

"""One fact of a house file by its path: names of fields, ids of parts, places in a list.

A part is known by its id; one that has none by what it joins: "D1 C24 living" is where those two
cables come near one another in that room.
"""

from collections.abc import Sequence
from typing import Any

Path = tuple[str | int, ...]

PAIRS = frozenset({"first_supports_mm"})
"""Fields with a value for each end."""
JOINED: dict[str, tuple[str, ...]] = {
    "separations": ("cables", "room"),
    "heat_gaps": ("cable", "source", "room"),
    "crossings": ("cable", "face", "room"),
    "pipes": ("kind",),
    "through": ("box",),
}
"""What a part of these lists is known by, since it has no id."""


class NoSuchPath(Exception):
    """The house has no such part any more."""


def part_key(among: str, part: dict[str, Any]) -> str:
    """What a part is known by among those of its list."""
    if "id" in part:
        return str(part["id"])
    words: list[str] = []
    for name in JOINED.get(among, ()):
        value = part[name]
        if isinstance(value, str):
            words.append(value)
        else:
            words.extend(value)
    return " ".join(words)


def value_at(house: dict[str, Any], path: Path) -> Any:
    """The value at a path of a house as JSON; None where nothing is recorded.

    Raises NoSuchPath for a part that the house does not have, but for the part itself.
    """
    here: Any = house
    among = ""
    for step, last in _steps(path):
        if isinstance(here, list) and isinstance(step, str):
            place = _place(here, among, step)
            if place is None and not last:
                raise NoSuchPath(step)
            here = None if place is None else here[place]
        elif isinstance(here, list):
            here = _entry(here, step)
        elif here is not None:
            here = _field(here, step)
        among = str(step)
    return here


def put_at(house: dict[str, Any], path: Path, value: Any) -> None:
    """Write a value at a path of a house as JSON; None takes out what is recorded there.

    Raises NoSuchPath for a part that the house does not have, but for the part itself.
    """
    here: Any = house
    among = ""
    for place, (step, last) in enumerate(_steps(path)):
        if last:
            _put(here, among, step, value)
            return
        if isinstance(here, list) and isinstance(step, str):
            found = _place(here, among, step)
            if found is None:
                raise NoSuchPath(step)
            here = here[found]
        elif isinstance(here, list):
            here = _entry(here, step)
        else:
            if _field(here, step) is None:
                here[step] = _empty(step, path[place + 1])
            here = here[step]
        among = str(step)


def _steps(path: Path) -> list[tuple[str | int, bool]]:
    if not path:
        raise NoSuchPath("")
    steps: list[tuple[str | int, bool]] = []
    for place, step in enumerate(path, 1):
        steps.append((step, place == len(path)))
    return steps


def _field(part: Any, name: str | int) -> Any:
    """What a part has under a name; a figure or a word has nothing within it."""
    if not isinstance(part, dict) or not isinstance(name, str):
        raise NoSuchPath(name)
    return part.get(name)


def _empty(step: str | int, following: str | int) -> Any:
    """What stands where nothing was recorded, so that one entry of it can be."""
    if isinstance(following, int) and step in PAIRS:
        return [None, None]
    if isinstance(following, int):
        raise NoSuchPath(step)
    if step in _LISTS:
        return []
    return {}


_LISTS = frozenset({"boxes", "cables", "devices", *JOINED})


def _put(here: Any, among: str, step: str | int, value: Any) -> None:
    if not isinstance(here, list):
        if not isinstance(here, dict) or not isinstance(step, str):
            raise NoSuchPath(step)
        if value is None:
            here.pop(step, None)
        else:
            here[step] = value
        return
    if isinstance(step, int):
        _entry(here, step)
        here[step] = value
        return
    place = _place(here, among, step)
    if place is None:
        here.append(value)
    elif value is None:
        del here[place]
    else:
        here[place] = value


def _entry(here: Sequence[Any], step: str | int) -> Any:
    if not isinstance(step, int) or not 0 <= step < len(here):
        raise NoSuchPath(step)
    return here[step]


def _place(parts: Sequence[Any], among: str, key: str) -> int | None:
    """Where in its list the part of that key stands."""
    for place, part in enumerate(parts):
        if isinstance(part, dict) and part_key(among, part) == key:
            return place
    return None

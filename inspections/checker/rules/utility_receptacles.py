"""A receptacle for anything that has to be plugged in where nothing is finished."""

from collections.abc import Iterator

from inspections.checker.asking.required_receptacles import count_data, provided, tell_count

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..site import HouseByCode

NAME = "utility-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The room and its receptacles."""
    return tell_count(finding, finding.facts["room"], "Add a receptacle for general use.")


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in utility rooms and basements",
    tell=tell,
    scope=Scope.ROOM,
)
def utility_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A utility room or unfinished basement has a receptacle beside those of its equipment."""
    book = site.rulebook
    if f"{NAME}.count" not in book:
        return
    limits, count = tuple(book.limits_of(NAME)), book.value(f"{NAME}.count")
    highest = book.value("wall-receptacles.max_height_mm")
    for room in site.house.rooms:
        if room.kind in book.value(f"{NAME}.rooms"):
            found = provided(site.boxes_in[room.id], highest)
            data = count_data(found, (count, count), highest)
            if room.kind == "utility":
                data["room"] = "utility room"
            else:
                data["room"] = "unfinished part"
            verdict = found.verdict(count, count)
            yield Finding(this, room.id, verdict, site.room_spot(room), data, limits)

"""A switch at each end of a stair."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from config.messages.message import Listed, Text, Value, message
from inspections.checker.asking.light_words import SwitchedOutlet, light_lines, switched
from inspections.checker.asking.lines import MOST_NAMED, in_order
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, RECORD, STILL_MISSING
from inspections.checker.asking.visual import COUNTED, PartKind
from inspections.checker.graph.lights import TRAVELLERS, Switcher, is_light
from inspections.checker.house.nouns import noun
from inspections.checker.spot import BOX

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.rooms import OpeningKind, Room, RoomKind
from ..site import HouseByCode

NAME = "stair-switches"
UNFINISHED = frozenset(
    {RoomKind.BASEMENT, RoomKind.UTILITY, RoomKind.STORAGE, RoomKind.CRAWL_SPACE, RoomKind.STAIR}
)
DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)
END = message(f"{NAME}.end", "{kind} {room}")
HAS = message(f"{NAME}.has", "Light {light} has a switch at each level of this stair.")
HAS_HEAD = message(
    f"{NAME}.has-head", "Light {light} has a switch at every level but the unfinished one."
)
BARE_HEAD = message(f"{NAME}.bare-head", "Light {light} has no switch at {ends}.")
BARE = message(f"{NAME}.bare", "Light {light} has no switch at {ends}; one required at each level.")
SINGLE = message(
    f"{NAME}.single",
    "Single-pole switches at {boxes}; three-way required.",
    one="Single-pole switch at {boxes}; three-way required.",
)
ADD = message(f"{NAME}.bare.remedy", "Add a switch there.")
ADD_PAIR = message(f"{NAME}.pair.remedy", "Install three-way switches, with travellers between.")
RISERS = message(
    f"{NAME}.risers",
    "{n} risers; a switch at each level required from {limit}",
    one="{n} riser; a switch at each level required from {limit}",
)
SWITCH_AT = message(f"{NAME}.switch-at", "{end}: a switch")
NONE_AT = message(f"{NAME}.none-at", "{end}: no switch")
HEAD_ONLY = message(f"{NAME}.head-only", "{end} is unfinished: a switch at the head will do")
GAP_RISERS = message(f"{NAME}.gap-risers", "how many risers this stair has")
GAP_ENDS = message(f"{NAME}.gap-ends", "which rooms are at the head and foot")
GAP_WAYS = message(f"{NAME}.gap-ways", "which switch in box {box} turns on light {light}")


class StairGap(StrEnum):
    """A fact that is missing of a stair."""

    RISERS = "risers"
    ENDS = "ends"
    WAYS = "ways"
    """Which of several switches of a box it is."""


@dataclass(frozen=True, slots=True)
class StairEnd:
    """A room at an end of a stair, and whether a switch there turns its light on."""

    room: str
    kind: RoomKind
    switched: bool = False


@dataclass(frozen=True, slots=True)
class StairSwitchFacts:
    """The light of a stair that is switched best, at which ends, and what is wrong with that.

    `single` are the boxes whose switch works from one place alone, `unclear` those of which
    it is not recorded yet which switch it is. `unfinished` is the end that needs none.
    """

    light: str
    lights: frozenset[SwitchedOutlet]
    ends: frozenset[StairEnd]
    unfinished: StairEnd | None
    single: frozenset[str]
    unclear: frozenset[str]
    missing: frozenset[StairGap]
    risers: int | None
    from_risers: int


def tell(finding: Finding) -> FindingWords:
    """The stair's light, and at which of its ends a switch turns it on."""
    facts: StairSwitchFacts = finding.facts
    missing = _missing_texts(facts)
    working = tuple(_working(facts, finding.verdict, missing))
    if finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=Listed(missing))
        return FindingWords(says, working=working, remedy=RECORD())
    figure: Value = sum(end.switched for end in facts.ends)
    limit: Value = len(facts.ends)
    if finding.verdict is Verdict.OK:
        has = HAS if facts.unfinished is None else HAS_HEAD
        return FindingWords(has(light=facts.light), figure, limit, working)
    bare = [end for end in _in_order(facts.ends) if not end.switched]
    if not bare:
        return FindingWords(_single(facts), "", "", working, ADD_PAIR())
    ends = Listed(tuple(_end(end) for end in bare))
    if len(facts.ends) == 1:
        says = BARE_HEAD(light=facts.light, ends=ends)
        return FindingWords(says, figure, limit, working, ADD())
    says = BARE(light=facts.light, ends=ends)
    return FindingWords(says, figure, limit, working, ADD_PAIR())


def _single(facts: StairSwitchFacts) -> Text:
    count = len(facts.single)
    boxes: Value = Listed(tuple(BOX(box=box) for box in in_order(facts.single)))
    if count > MOST_NAMED:
        boxes = COUNTED[PartKind.BOX](n=count)
    return SINGLE(n=count, boxes=boxes)


def _end(end: StairEnd) -> Text:
    """A room at an end of the stair: hallway H2."""
    return END(kind=noun(end.kind), room=end.room)


def _in_order(ends: Iterable[StairEnd]) -> list[StairEnd]:
    by_room = {end.room: end for end in ends}
    return [by_room[room] for room in in_order(by_room)]


def _missing_texts(facts: StairSwitchFacts) -> tuple[Text, ...]:
    """What is to be recorded, each as part of a sentence."""
    texts = []
    if StairGap.RISERS in facts.missing:
        texts.append(GAP_RISERS())
    if StairGap.ENDS in facts.missing:
        texts.append(GAP_ENDS())
    if StairGap.WAYS in facts.missing:
        for box in in_order(facts.unclear):
            texts.append(GAP_WAYS(box=box, light=facts.light))
    return tuple(texts)


def _working(
    facts: StairSwitchFacts, verdict: Verdict, missing: tuple[Text, ...]
) -> Iterator[Value]:
    if facts.risers is not None:
        yield RISERS(n=facts.risers, limit=facts.from_risers)
    elif StairGap.RISERS not in facts.missing:
        yield EITHER_WAY(what=GAP_RISERS())
    yield from light_lines(facts.lights)
    for end in _in_order(facts.ends):
        line = SWITCH_AT if end.switched else NONE_AT
        yield line(end=_end(end))
    if facts.unfinished is not None:
        yield HEAD_ONLY(end=_end(facts.unfinished))
    still = EITHER_WAY
    if verdict is Verdict.INFO_NEEDED:
        still = STILL_MISSING
    for text in missing:
        yield still(what=text)


@rule(
    NAME,
    topic="switching",
    title="Stair switches",
    tell=tell,
    scope=Scope.WIRING,
    facts=StairSwitchFacts,
)
def stair_switches(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A stair of some risers can be lit from each level that opens on it.

    The switches are three-way or four-way, read off the wiring where it is not recorded yet what
    they
    turn on. Some codes let one at the head do for a stair to an unfinished basement.
    """
    limit = site.rulebook.get(f"{NAME}.risers")
    if limit is None:
        return
    for room in site.house.rooms:
        lit = []
        for box in site.boxes_in[room.id]:
            if is_light(box):
                lit.append(box.id)
        few = room.risers is not None and room.risers < limit.value
        if room.kind is RoomKind.STAIR and lit and not few:
            yield _stair(this, site, room, lit)


def _stair(this: Rule, site: HouseByCode, room: Room, lit: list[str]) -> Finding:
    judged = [_judge(site, room, light, lit) for light in in_order(lit)]
    verdict, facts = min(judged, key=lambda each: BEST_FIRST.index(each[0]))
    if room.risers is None and verdict is not Verdict.OK:
        verdict = Verdict.INFO_NEEDED
        facts = replace(facts, missing=facts.missing | {StairGap.RISERS})
    limits = tuple(site.rulebook.limits_of(NAME))
    return Finding(this, room.id, verdict, site.room_spot(room), facts, limits)


BEST_FIRST = (Verdict.OK, Verdict.INFO_NEEDED, Verdict.NOT_TO_CODE)


def _judge(
    site: HouseByCode, room: Room, light: str, lit: list[str]
) -> tuple[Verdict, StairSwitchFacts]:
    """How one of its lights is switched, and why."""
    switchers = site.lights.switchers(light)
    rooms, unfinished = stair_ends(site, room)
    ends = frozenset(
        StairEnd(each.id, each.kind, _at(site, each, rooms, switchers)) for each in rooms
    )
    bare = not all(end.switched for end in ends)
    single: frozenset[str] = frozenset()
    unclear: frozenset[str] = frozenset()
    if len(rooms) > 1 and not bare:
        single, unclear = _one_way(switchers)
    missing = set()
    if not rooms:
        missing.add(StairGap.ENDS)
    if unclear:
        missing.add(StairGap.WAYS)
    verdict = fault_verdict(single, missing)
    if bare:
        verdict = Verdict.NOT_TO_CODE
    facts = StairSwitchFacts(
        light,
        frozenset(switched(site, each) for each in lit),
        ends,
        None if unfinished is None else StairEnd(unfinished.id, unfinished.kind),
        single,
        unclear,
        frozenset(missing),
        room.risers,
        site.rulebook.value(f"{NAME}.risers"),
    )
    return verdict, facts


def _one_way(switchers: Iterable[Switcher]) -> tuple[frozenset[str], frozenset[str]]:
    """The boxes whose switch works from one place alone, and those where it is not recorded yet
    which switch it is."""
    single = set()
    unclear = set()
    for switcher in switchers:
        if not switcher.ways:
            unclear.add(switcher.box)
        elif switcher.ways < TRAVELLERS:
            single.add(switcher.box)
    return frozenset(single), frozenset(unclear)


def _at(site: HouseByCode, end: Room, ends: list[Room], switchers: list[Switcher]) -> bool:
    """Whether a switch stands in the room at an end, or on its storey when no other end is."""
    alone = sum(each.storey == end.storey for each in ends) == 1
    for switcher in switchers:
        room = site.rooms[site.boxes[switcher.box].room]
        if room.id == end.id or (alone and room.storey == end.storey):
            return True
    return False


def stair_ends(site: HouseByCode, room: Room) -> tuple[list[Room], Room | None]:
    """The rooms that need a switch, and the basement that does not, if one is let off."""
    ends = []
    for name in room.joins or ():
        ends.append(site.rooms[name])
    if site.rulebook.value(f"{NAME}.head_only"):
        for end in ends:
            if end.kind is RoomKind.BASEMENT and _unfinished(site, end.storey):
                others = []
                for each in ends:
                    if each is not end:
                        others.append(each)
                return others, end
    return ends, None


def _unfinished(site: HouseByCode, storey: str) -> bool:
    """Whether nothing on a storey is finished and no door leads out of it."""
    for room in site.house.rooms:
        if room.storey == storey and (room.kind not in UNFINISHED or _has_way_out(room)):
            return False
    return True


def _has_way_out(room: Room) -> bool:
    for wall in room.walls:
        if not wall.outside:
            continue
        for opening in wall.openings:
            if opening.kind in DOORS:
                return True
    return False

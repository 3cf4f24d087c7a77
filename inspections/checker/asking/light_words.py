"""What turns on a light, in words that the rules on lights share."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from config.messages.message import Listed, Text, message
from inspections.checker.asking.lines import MOST_NAMED, ids_listed, in_order
from inspections.checker.asking.visual import natural
from inspections.checker.site import HouseByCode

SWITCHED_AT = message("lights.switched-at", "light {light}: switched at {boxes}")
RECEPTACLE_AT = message("lights.receptacle-at", "receptacle {box}: switched at {boxes}")
UNSWITCHED = message("lights.unswitched", "light {light}: no wall switch")
WHAT_SWITCHES = message("lights.what-switches", "what switches light {light}")
MANY_SWITCHES = message(
    "lights.many-switches", "what switches {n} lights", one="what switches {n} light"
)
NONE_RECORDED = message("lights.none-recorded", "lights recorded: none")
RECORD_WIRING = message(
    "lights.record-wiring", "Record the cables to it, or what its switch controls."
)


@dataclass(frozen=True, slots=True)
class SwitchedOutlet:
    """A light or receptacle, and the boxes whose switches turn it on."""

    outlet: str
    switches: frozenset[str]


def switched(site: HouseByCode, outlet: str) -> SwitchedOutlet:
    """What turns on an outlet, as somebody recorded it or by the wiring."""
    boxes = [switcher.box for switcher in site.lights.switchers(outlet)]
    return SwitchedOutlet(outlet, frozenset(boxes))


def by_outlet(outlets: Iterable[SwitchedOutlet]) -> list[SwitchedOutlet]:
    """Outlets as a person counts them."""
    return sorted(outlets, key=lambda each: natural(each.outlet))


def light_lines(lights: Iterable[SwitchedOutlet]) -> Iterator[Text]:
    """Where each light is switched, or that no wall switch turns it on."""
    for each in by_outlet(lights):
        if each.switches:
            yield SWITCHED_AT(light=each.outlet, boxes=ids_listed(each.switches))
        else:
            yield UNSWITCHED(light=each.outlet)


def switch_unknown(lights: Collection[str]) -> Listed:
    """What is to be recorded of lights whose wiring is not recorded yet."""
    if len(lights) > MOST_NAMED:
        return Listed((MANY_SWITCHES(n=len(lights)),))
    return Listed(tuple(WHAT_SWITCHES(light=light) for light in in_order(lights)))

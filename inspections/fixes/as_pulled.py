"""A circuit as it was pulled: which cables of a house change when its boxes are fed otherwise.

Cables between the same two places keep their facts. A new cable has its kind and conductors only;
its length, supports and bends are not recorded yet. Pure.
"""

from collections.abc import Sequence

from config.messages.message import Text, message
from inspections.fixes.cables_changed import (
    Change,
    Hop,
    House,
    free_ids,
    new_cable,
    without_cables,
)

START = message("pulled.start", "Circuit {circuit} starts at panel {panel}.")
TWICE = message("pulled.twice", "{node} is fed twice. Leave one run out.")
NOT_FED = message(
    "pulled.not-fed", "{node} is not fed yet. Tap the boxes in the order they are fed."
)
NO_NODE = message("pulled.no-node", "There is no {node} in this house. Open the circuit again.")
NO_CIRCUIT = message("pulled.no-circuit", "Circuit {circuit} is no longer part of the house.")
NO_CABLE = message(
    "pulled.no-cable",
    "No cable of circuit {circuit} is recorded. Draw its first run on the drawing board.",
)


class NotARun(ValueError):
    """Hops that are no runs of a circuit; `text` says why."""

    def __init__(self, text: Text) -> None:
        super().__init__(text.id)
        self.text = text


def hops_of(house: House, circuit: str) -> list[Hop]:
    """The runs of a circuit as the house says them."""
    found: list[Hop] = []
    for cable in house.get("cables", ()):
        if cable.get("circuit") == circuit:
            first, last = cable["ends"]
            found.append((first, last))
    return found


def as_pulled(house: House, circuit: str, hops: Sequence[Hop]) -> list[Change]:
    """What changes where a circuit feeds its boxes by these hops, in the order to be written.

    Raises NotARun for hops that start at no panel, feed a box twice or from one not yet fed.
    """
    if sorted(hops) == sorted(hops_of(house, circuit)):
        return []
    _refuse(house, circuit, hops)
    own = [cable for cable in house["cables"] if cable.get("circuit") == circuit]
    wanted = {frozenset(hop): hop for hop in hops}
    gone = [cable for cable in own if frozenset(cable["ends"]) not in wanted]
    there = {frozenset(cable["ends"]) for cable in own}
    changes: list[Change] = []
    ids = free_ids(house)
    for hop in hops:
        if frozenset(hop) not in there:
            changes.append(new_cable(own, hop, next(ids)))
    for cable in own:
        hop = wanted.get(frozenset(cable["ends"]))
        if hop is not None and tuple(cable["ends"]) != hop:
            changes.append((("cables", cable["id"]), cable, _turned(cable)))
    changes.extend(without_cables(house, gone))
    return changes


def _refuse(house: House, circuit: str, hops: Sequence[Hop]) -> None:
    panels = [each["panel"] for each in house["circuits"] if each["id"] == circuit]
    if not panels:
        raise NotARun(NO_CIRCUIT(circuit=circuit))
    if not hops_of(house, circuit):
        raise NotARun(NO_CABLE(circuit=circuit))
    nodes = {each["id"] for kind in ("boxes", "appliances") for each in house.get(kind, ())}
    (panel,) = panels
    fed = {panel}
    if not hops or hops[0][0] != panel:
        raise NotARun(START(circuit=circuit, panel=panel))
    for start, end in hops:
        if end not in nodes:
            raise NotARun(NO_NODE(node=end))
        if start not in fed:
            raise NotARun(NOT_FED(node=start))
        if end in fed:
            raise NotARun(TWICE(node=end))
        fed.add(end)


def _turned(cable: House) -> House:
    """The same cable fed from its other end."""
    turned = cable | {"ends": cable["ends"][::-1]}
    for name in ("first_supports_mm", "through"):
        if cable.get(name):
            turned[name] = cable[name][::-1]
    return turned

"""Cables that are pulled anew or are gone: what a new one has of its circuit, and what goes with an
old one. Pure.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from inspections.checker.house.paths import Path, part_key

Hop = tuple[str, str]
"""From the panel, or a box that is fed already, to the box or appliance it feeds."""
House = dict[str, Any]
"""A house as JSON."""
Change = tuple[Path, Any, Any]
"""A fact with its value of before and after; None for a part that is not there."""

BOUGHT = ("kind", "circuit", "awg", "insulated", "bonding", "bonding_awg", "isolated_bonding")
"""Facts of the cable as bought, the same for each of its lengths."""
TOGETHER = ("holes", "notches", "fastenings", "bundles")
"""Parts that several cables share; they lose only the cable that is gone."""
OF_ONE = {"separations": "cables", "heat_gaps": "cable", "crossings": "cable"}
"""Measurements of one cable or one pair, which go with it, and the field that names it."""


def new_cable(own: Sequence[House], hop: Hop, name: str) -> Change:
    """A cable with the facts of the circuit's cable next to it, as bought; no other is known."""
    near = [cable for cable in own if set(cable["ends"]) & set(hop)] or list(own)
    made = {fact: near[0][fact] for fact in BOUGHT if near[0].get(fact) is not None}
    return ("cables", name), None, made | {"id": name, "ends": list(hop)}


def free_ids(house: House) -> Iterator[str]:
    """Names that no cable has yet."""
    taken = {cable["id"] for cable in house["cables"]}
    number = len(taken)
    while True:
        number += 1
        if f"C{number}" not in taken:
            yield f"C{number}"


def without_cables(house: House, gone: Sequence[House]) -> Iterator[Change]:
    """These cables taken out, and before them what names them."""
    names = {cable["id"] for cable in gone}
    for kind in TOGETHER:
        for part in house.get(kind, ()):
            left = [each for each in part["cables"] if each not in names]
            if not left:
                yield (kind, part["id"]), part, None
            elif len(left) < len(part["cables"]):
                yield (kind, part["id"], "cables"), part["cables"], left
    for kind, name in OF_ONE.items():
        for part in house.get(kind, ()):
            named = part[name] if isinstance(part[name], list) else [part[name]]
            if names & set(named):
                yield (kind, part_key(kind, part)), part, None
    for cable in gone:
        yield ("cables", cable["id"]), cable, None

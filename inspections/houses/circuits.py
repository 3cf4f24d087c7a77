"""The circuits of a recorded house, as a person at its panel finds them."""

import json
from dataclasses import asdict, dataclass

from inspections.models import HouseRevision


@dataclass(frozen=True, slots=True)
class HouseCircuit:
    """One circuit: its id in the house, its panel, its number there and its name."""

    id: str
    panel: str
    number: str
    """The spaces of its breaker, with its panel where the house has several; its id where no
    space is recorded."""
    name: str

    @property
    def label(self) -> str:
        """As it is told: number and name."""
        return f"{self.number} {self.name}"

    def kept(self) -> dict[str, str]:
        """As it is written beside the authorization that names it."""
        return asdict(self)


def circuits_of(revision: HouseRevision | None) -> list[HouseCircuit]:
    """The circuits of a revision in the order of the house; none before a house is recorded."""
    if revision is None:
        return []
    circuits = json.loads(revision.house).get("circuits", [])
    panels = set()
    for each in circuits:
        panels.add(each["panel"])
    several = len(panels) > 1
    found = []
    for each in circuits:
        half = each.get("half") or ""
        number = "/".join(f"{slot}{half}" for slot in each.get("slots") or ()) or each["id"]
        if several:
            number = f"{each['panel']} {number}"
        found.append(HouseCircuit(each["id"], each["panel"], number, each["name"]))
    return found

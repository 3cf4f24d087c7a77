"""What a phone is given of the circuits of a job: their runs as drawn, and the boxes to tap."""

import json
from typing import Any

from inspections.checker.finding import Verdict
from inspections.fixes.as_pulled import hops_of
from inspections.houses.circuits import circuits_of
from inspections.models import HouseRevision, Item
from inspections.selectors import room_names
from jobs.models import Job

PATH = "circuit-paths"
"""The rule that asks whether a circuit is wired from its breaker to all on it."""


def circuits_data(job: Job, revision: HouseRevision | None) -> dict[str, Any]:
    """The circuits in the order of the house with their runs, and what can be fed, by room."""
    if revision is None:
        return {"circuits": [], "nodes": []}
    house = json.loads(revision.house)
    items = {}
    for item in Item.objects.filter(job=job, current=True, rule=PATH, verdict=Verdict.OK):
        items[item.subject] = str(item.id)
    circuits = []
    for each in circuits_of(revision):
        hops = hops_of(house, each.id)
        if hops:
            circuits.append(
                {
                    "id": each.id,
                    "label": each.label,
                    "name": each.name,
                    "panel": each.panel,
                    "hops": hops,
                    "item": items.get(each.id),
                }
            )
    names = room_names(revision)
    nodes = []
    for kind in ("boxes", "appliances"):
        for part in house.get(kind, ()):
            room = part.get("room", "")
            nodes.append({"id": part["id"], "room": names.get(room, room)})
    return {"circuits": circuits, "nodes": nodes}

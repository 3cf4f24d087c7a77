"""What a phone is given to say what was built otherwise: boxes and walls by room, and devices."""

import json
from collections import Counter
from typing import Any

from django.utils.text import capfirst

from config.languages import say
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.nouns import noun
from inspections.fixes.fact_words import value_words
from inspections.models import HouseRevision

PLACE = ("boxes", "", "place")


def built_data(revision: HouseRevision | None) -> dict[str, Any]:
    """The walls and boxes by room, and the devices of the house, the commonest first."""
    if revision is None:
        return {}
    house = json.loads(revision.house)
    walls = {}
    for room in house["rooms"]:
        walls[room["id"]] = [wall["id"] for wall in room.get("walls", ())]
    boxes = []
    kinds: Counter[str] = Counter()
    for box in house.get("boxes", ()):
        boxes.append(_box(box))
        kinds.update(device["kind"] for device in box.get("devices", ()))
    devices = []
    for kind, _ in kinds.most_common():
        devices.append({"kind": kind, "says": capfirst(say(noun(DeviceKind(kind))))})
    return {"boxes": boxes, "walls": walls, "devices": devices}


def _box(box: dict[str, Any]) -> dict[str, Any]:
    what = ""
    if box.get("devices"):
        what = say(noun(DeviceKind(box["devices"][0]["kind"])))
    place = box["place"]
    where = say(value_words(PLACE, place))
    return {"id": box["id"], "room": box["room"], "what": what, "where": where, "place": place}

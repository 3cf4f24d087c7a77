"""What the facts that can be corrected are called, and how their values are said.

The name of a fact is what a form asks for; of one that a button records, it is what is so then.
"""

from collections.abc import Mapping
from typing import Any

from config.messages.message import (
    Amperes,
    Length,
    Listed,
    Mass,
    Message,
    Ratio,
    Text,
    Value,
    Volume,
    message,
)
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.fixes import FixKind, fact_of, kind_of
from inspections.checker.house.gauges import awg, awg_number
from inspections.checker.house.nouns import noun
from inspections.checker.house.paths import JOINED, Path
from inspections.checker.spot import CEILING, COUNTER, FLOOR_BY_WALL, FROM_LEFT, UP, WALL

_NAMES = {
    "boxes.setback_mm": "Distance box {part} sits behind the finished surface",
    "boxes.surface_combustible": "Surface around box {part} is noncombustible",
    "boxes.open_holes": "Open knockouts in box {part}",
    "boxes.fixed": "Box {part} is secured to framing",
    "boxes.sheath_mm": "Cable sheath inside box {part}",
    "boxes.barrier": "Barrier installed in box {part}",
    "boxes.free_mm": "Free conductor in box {part}",
    "boxes.outside_mm": "Conductor outside box {part}",
    "boxes.height_mm": "Height of box {part}",
    "boxes.from_wall_mm": "Distance from box {part} to the wall",
    "boxes.overhang_mm": "Countertop overhang over box {part}",
    "boxes.at_mm": "Distance from the left end to box {part}",
    "boxes.braces": "Braces on box {part}",
    "boxes.boot": "Boot installed around box {part}",
    "boxes.volume_ml": "Volume of box {part}",
    "boxes.added_volume_ml": "Volume of the extension ring on box {part}",
    "boxes.clamps": "Clamps in box {part}",
    "boxes.connectors": "Wire connectors in box {part}",
    "boxes.holds_kg": "Weight box {part} is marked to support",
    "boxes.held_apart": "Light or fan at box {part} is hung from framing",
    "boxes.fan_marked": "Box {part} is marked for a fan",
    "boxes.place": "Place of box {part}",
    "boxes": "Box {part}",
    "devices.mounting": "Mounting of the light at box {part}",
    "devices.from_storage_mm": "Distance from light {part} to the closet storage space",
    "devices.dedicated_to": "Appliance that receptacle {part} is for",
    "devices.in_cabinet": "Receptacle {part} is out of the cabinet",
    "devices.controls": "Lights that switch {part} turns on",
    "devices.protection": "Protection of receptacle {part}",
    "devices.amperes": "Rating of receptacle {part}",
    "devices.depth_mm": "Depth of the device in box {part}",
    "devices.awg": "Wire size at the device in box {part}",
    "devices.tamper_resistant": "Receptacle {part} is tamper-resistant",
    "recessed.plate": "Location plate on light {part}",
    "recessed.ceiling": "Ceiling around light {part}",
    "recessed.combustible_mm": "Distance from light {part} to framing",
    "recessed.insulation_contact": "Light {part} is marked Type IC",
    "recessed.insulated": "No insulation around light {part}",
    "recessed.insulation_mm": "Distance from light {part} to insulation",
    "recessed.joints_accessible": "Joint box of light {part} is accessible",
    "cables.undamaged": "Cable {part} is replaced or repaired",
    "cables.width_mm": "Diameter of cable {part}",
    "cables.bend_mm": "Bend radius of cable {part}",
    "cables.interval_mm": "Distance between supports of cable {part}",
    "cables.first_supports_mm": "Distance to the first support of cable {part}",
    "cables.insulated": "Insulated conductors in cable {part}",
    "cables.bonding_awg": "Size of the bonding conductor in cable {part}",
    "cables.bonding": "Bonding conductors in cable {part}",
    "cables.awg": "Wire size of cable {part}",
    "cables.fished": "Cable {part} is not fished",
    "cables.edge_mm": "Distance from cable {part} to the edge of framing",
    "cables.plate_mm": "Thickness of the steel plate over cable {part}",
    "cables": "Cable {part}",
    "fastenings.cables": "Cables under support {part}",
    "fastenings.listed_for": "Cables that staple {part} is listed for",
    "fastenings.on_edge": "Cable under staple {part} lies flat",
    "holes.cables": "Cables in hole {part}",
    "holes.edge_mm": "Distance from hole {part} to the edge",
    "holes.plate_mm": "Thickness of the steel plate over hole {part}",
    "holes.diameter_mm": "Diameter of hole {part}",
    "holes.member_mm": "Depth of the framing at hole {part}",
    "holes.doubled": "Stud at hole {part} is doubled",
    "holes.sealed": "Hole {part} is not sealed",
    "holes.bushed": "Bushing installed in hole {part}",
    "holes.bearing": "Wall at hole {part} is bearing",
    "notches.depth_mm": "Depth of notch {part}",
    "notches.member_mm": "Depth of the framing at notch {part}",
    "notches.bearing_mm": "Distance from the bearing to notch {part}",
    "notches.plate_mm": "Thickness of the steel plate over notch {part}",
    "notches.bottom": "Notch {part} is cut in the top of the joist",
    "notches.middle_third": "Notch {part} is outside the middle third",
    "notches.bearing": "Wall at notch {part} is bearing",
    "bundles.apart": "Cables of bundle {part} are kept apart",
    "bundles.length_mm": "Length of bundle {part}",
    "bundles.stand_offs": "Stand-offs installed at bundle {part}",
    "separations.distance_mm": "Distance between cables {part}",
    "separations.crossing_deg": "Angle where cables {part} cross",
    "heat_gaps.distance_mm": "Distance from cable {part} to the heat source",
    "heat_gaps.shielded": "Barrier between cable {part} and the heat source",
    "crossings.guarded": "Guard strips installed along cable {part}",
    "rooms.from_grade": "{part}: reached from the ground",
    "counters.provision": "Outlet left for a receptacle at counter {part}",
    "circuits.protection": "Breaker protection of circuit {part}",
    "circuits.breaker_a": "Breaker of circuit {part}",
    "circuits.slots": "Panel spaces of circuit {part}",
    "circuits.common_trip": "One handle opens both poles of circuit {part}",
    "panels.highest_handle_mm": "Highest breaker handle in panel {part}",
    "panels.clear_width_mm": "Clear width in front of panel {part}",
    "panels.clear_depth_mm": "Clear depth in front of panel {part}",
    "panels.clear_height_mm": "Clear height in front of panel {part}",
    "device_depth_mm": "Depth of the {part} you use",
}
NAMES: Mapping[str, Message] = {
    key: message(f"fact.{key.replace('_', '-')}", words) for key, words in _NAMES.items()
}
"""By list of the house file and field; what is within a box by the list or part it is in."""
NOT_RECORDED = message("fact.not-recorded", "not recorded")
YES = message("fact.yes", "yes")
NO = message("fact.no", "no")
NONE = message("fact.none", "none")
THERE = message("fact.there", "installed")
DEGREES = message("fact.degrees", "{n}°")
_WORDS = {
    "surface": "surface-mounted",
    "recessed": "recessed",
    "pendant": "pendant",
    "internal": "internal clamps",
    "external": "clamps outside",
    "board": "drywall",
    "wood": "wood",
}
WORDS: Mapping[str, Message] = {
    word: message(f"fact.word.{word}", words) for word, words in _WORDS.items()
}
MOST_SHOWN = 80
PROTECTIONS = {"gfci": "GFCI", "afci": "AFCI", "dual": "AFCI/GFCI"}


def fact_key(path: Path) -> str:
    """Under which name a fact stands here: boxes.volume_ml, devices.awg, recessed.plate."""
    names = [str(step) for step in path if isinstance(step, str)]
    last = names[-1]
    if path[0] == "device_depth_mm":
        return "device_depth_mm"
    if len(path) <= 2:  # the part itself
        return str(path[0])
    for within in ("recessed", "devices"):
        if within in names:
            return f"{within}.{last}"
    return f"{path[0]}.{last}"


def fact_name(path: Path) -> Text:
    """What a fact is called."""
    named = NAMES[fact_key(path)]
    part = str(path[1])
    if path[0] == "device_depth_mm":
        return named(part=noun(DeviceKind(part)))
    if path[0] in JOINED:
        parts = part.split(" ")
        if path[0] == "separations":
            return named(part=Listed(tuple(parts[:2])))
        return named(part=parts[0])
    return named(part=part)


def may_be_corrected(path: Path) -> bool:
    """Whether the fact is one that is corrected where one stands."""
    if len(path) < 2 or not isinstance(path[0], str):
        return False
    if path[0] == "device_depth_mm":
        return len(path) == 2 and path[1] in [kind.value for kind in DeviceKind]
    return fact_key(path) in NAMES


def value_words(path: Path, value: Any) -> Value:
    """A value as its reader's tape or plate shows it; what is none of this fact, as it came."""
    try:
        return _value_words(path, value)
    except (KeyError, TypeError, ValueError):
        return str(value)[:MOST_SHOWN]


def _value_words(path: Path, value: Any) -> Value:
    if value is None:
        return NONE() if len(path) == 2 else NOT_RECORDED()
    if isinstance(value, bool):
        return YES() if value else NO()
    if isinstance(value, dict):
        return _part_words(value)
    if isinstance(value, list | tuple):
        return Listed(tuple(str(each) for each in value)) if value else NONE()
    return _plain_words(fact_of(path), value)


def _plain_words(field: str, value: Any) -> Value:
    if isinstance(value, str):
        return _word(field, value)
    if not isinstance(value, int | float):
        raise TypeError(f"{field} is a figure")
    if field in ("breaker_a", "amperes"):
        return Amperes(value)
    match kind_of(field):
        case FixKind.LENGTH:
            return Length(value)
        case FixKind.VOLUME:
            return Volume(value)
        case FixKind.WEIGHT:
            return Mass(value)
        case FixKind.ANGLE:
            return DEGREES(n=Ratio(value))
    number: Value = value
    return number


def _word(field: str, value: str) -> Value:
    """A size of wire, a kind of protection, or a word of the house file."""
    if field in ("awg", "bonding_awg"):
        return awg(awg_number(value))
    if field == "protection":
        return PROTECTIONS[value]
    if value in WORDS and field in ("mounting", "clamps", "ceiling"):
        return WORDS[value]()
    return NONE() if value == "none" else value


def _part_words(value: dict[str, Any]) -> Value:
    """A place by where it is; any other part by being there."""
    match value.get("surface"):
        case "wall" | "floor":
            on = WALL if value["surface"] == "wall" else FLOOR_BY_WALL
            where: list[Value] = [on(wall=value["wall"]), FROM_LEFT(length=Length(value["at_mm"]))]
            if value.get("height_mm") is not None:
                where.append(UP(length=Length(value["height_mm"])))
            return Listed(tuple(where))
        case "ceiling":
            return CEILING()
        case "counter":
            return COUNTER(counter=value["counter"])
    return THERE()

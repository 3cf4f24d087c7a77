"""What settles a box that is too full, or of which a fact of its fill is missing."""

from collections.abc import Iterator

from inspections.checker.asking.box_fill_facts import FillFacts, FillLacking, Unknown
from inspections.checker.asking.fixing import box_named, choice, device_path, figure
from inspections.checker.asking.house_uses import gauges_of
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Clamps
from inspections.checker.house.fixes import Fix, FixKind


def fill_fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A larger box, an extension ring; while a fact is missing, that fact."""
    facts = finding.facts
    if not isinstance(facts, FillFacts):
        return
    box = box_named(house, facts.box)
    if finding.verdict is Verdict.INFO_NEEDED:
        for each in facts.missing:
            yield from _lacking(house, box, each, facts.fill_ml)
    elif facts.has_ml is not None:
        ring = box.added_volume_ml
        yield larger_box(house, box, facts.fill_ml - ring)
        yield figure(("boxes", box.id, "added_volume_ml"), facts.fill_ml - facts.has_ml + ring)


def larger_box(house: House, box: Box, least_ml: float) -> Fix:
    """A box that is marked for more, of those of as many gangs that this house uses."""
    volumes = set()
    for each in house.boxes:
        if each.gangs == box.gangs and each.volume_ml is not None and each.volume_ml >= least_ml:
            volumes.add(each.volume_ml)
    path = ("boxes", box.id, "volume_ml")
    return Fix(path, FixKind.VOLUME, least=least_ml, choices=tuple(sorted(volumes)))


def _lacking(house: House, box: Box, each: FillLacking, fill_ml: float) -> Iterator[Fix]:
    match each.what:
        case Unknown.VOLUME | Unknown.STOCK:
            yield larger_box(house, box, fill_ml - box.added_volume_ml)
        case Unknown.SIZE:
            yield choice(("cables", each.cable, "awg"), gauges_of(house))
        case Unknown.CLAMPS:
            yield choice(("boxes", box.id, "clamps"), (clamps.value for clamps in Clamps))
        case Unknown.CONNECTOR_COUNT:
            yield figure(("boxes", box.id, "connectors"))
        case Unknown.DEPTH if each.device is not None:
            yield figure(("device_depth_mm", each.device.value))
        case Unknown.STRAP_SIZE if each.device is not None:
            path = (*device_path(house, box.id, each.device), "awg")
            yield choice(path, gauges_of(house))

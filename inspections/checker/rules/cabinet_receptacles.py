"""No receptacle inside a cupboard, unless an appliance there needs it."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import message
from inspections.checker.asking.fixing import box_named, choice, done
from inspections.checker.asking.house_uses import kept_names
from inspections.checker.asking.receptacles import appliance_called
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.house.paths import Path

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind
from ..house.fixtures import FixtureKind
from ..house.nouns import noun
from ..site import HouseByCode

NAME = "cabinet-receptacles"


KEPT = message(f"{NAME}.kept", "Receptacle {box} in the cupboard is there for one appliance.")
KEPT_FOR = message(f"{NAME}.kept-for", "Receptacle {box} in the cupboard is for the {appliance}.")
GENERAL = message(f"{NAME}.general", "Receptacle {box} in the cupboard is for general use.")
REMEDY = message(f"{NAME}.remedy", "Move it out, or keep it for one appliance.")
COUNTS = message(f"{NAME}.counts", "Receptacles in it: {n}; each for one appliance: {kept}.")


@dataclass(frozen=True, slots=True)
class CabinetFacts:
    """The receptacles of a box in a cupboard, and those that are there for one appliance."""

    box: str
    receptacles: int
    kept: int
    appliances: frozenset[FixtureKind]
    """What those are there for, where its name is one that the checker knows."""


def tell(finding: Finding) -> FindingWords:
    """The receptacle in the cupboard and what it is for."""
    facts: CabinetFacts = finding.facts
    working = (COUNTS(n=facts.receptacles, kept=facts.kept),)
    if finding.verdict is Verdict.NOT_TO_CODE:
        return FindingWords(GENERAL(box=facts.box), working=working, remedy=REMEDY())
    says = KEPT(box=facts.box)
    if len(facts.appliances) == 1:
        says = KEPT_FOR(box=facts.box, appliance=noun(min(facts.appliances)))
    return FindingWords(says, working=working)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """For one appliance, or out of the cupboard."""
    box = box_named(house, finding.facts.box)
    for place, device in enumerate(box.devices):
        if _in_cabinet(device) and not device.dedicated_to:
            path: Path = ("boxes", box.id, "devices", place)
            yield choice((*path, "dedicated_to"), kept_names(house))
            yield done((*path, "in_cabinet"), False)


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles in cupboards",
    tell=tell,
    scope=Scope.ROOM,
    facts=CabinetFacts,
    fixes=_fixes,
)
def cabinet_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A receptacle is not placed in a cupboard or cabinet except for an appliance made for it.

    Those that are part of a factory-built enclosure are left out.
    """
    limit = site.rulebook.get(f"{NAME}.general_use")
    if limit is None or limit.value:
        return
    for box in site.house.boxes:
        facts = _facts(box)
        if facts.receptacles:
            verdict = Verdict.OK
            if facts.kept < facts.receptacles:
                verdict = Verdict.NOT_TO_CODE
            yield Finding(this, box.id, verdict, site.box_spot(box), facts, (limit,))


def _facts(box: Box) -> CabinetFacts:
    inside = kept = 0
    appliances = set()
    for device in box.devices:
        if not _in_cabinet(device):
            continue
        inside += 1
        if device.dedicated_to:
            kept += 1
            if known := appliance_called(device.dedicated_to):
                appliances.add(known)
    return CabinetFacts(box.id, inside, kept, frozenset(appliances))


def _in_cabinet(device: Device) -> bool:
    is_receptacle = device.kind is DeviceKind.RECEPTACLE
    return is_receptacle and device.in_cabinet and not device.part_of_equipment

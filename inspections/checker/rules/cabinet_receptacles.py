"""No receptacle inside a cupboard, unless an appliance there needs it."""

from collections.abc import Iterator

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Device, DeviceKind
from ..site import HouseByCode
from ..words import listed

NAME = "cabinet-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The receptacle in the cupboard and what it is for."""
    kept = listed(finding.facts["kept_for"])
    figure = "for general use"
    if kept:
        figure = f"for the {kept}"
    says = {
        Verdict.MEETS: f"The receptacle in the cupboard is there for the {kept}.",
        Verdict.SHORT: "A receptacle for general use is inside a cupboard.",
    }[finding.verdict]
    remedy = "Move it out, or keep it for an appliance."
    if finding.verdict is Verdict.MEETS:
        remedy = ""
    working = (f"in a cupboard or cabinet, {figure}",)
    return FindingWords(says, figure, "for one appliance", working, remedy)


@rule(NAME, topic="receptacles", title="Receptacles in cupboards", tell=tell, scope=Scope.ROOM)
def cabinet_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A receptacle is not placed in a cupboard or cabinet except for an appliance made for it.

    Those that are part of a factory-built enclosure are left out.
    """
    limit = site.rulebook.get(f"{NAME}.general_use")
    if limit is None or limit.value:
        return
    for box in site.house.boxes:
        kept_for = [device.dedicated_to for device in box.devices if _in_cabinet(device)]
        if not kept_for:
            continue
        verdict = Verdict.MEETS
        data = {"kept_for": kept_for}
        if not all(kept_for):
            verdict = Verdict.SHORT
            data = {"kept_for": []}
        yield Finding(this, box.id, verdict, site.box_spot(box), data, (limit,))


def _in_cabinet(device: Device) -> bool:
    is_receptacle = device.kind is DeviceKind.RECEPTACLE
    return is_receptacle and device.in_cabinet and not device.part_of_equipment

"""Box fill, drawn from the cables that enter each box and what is inside it."""

from collections.abc import Iterator, Sequence
from typing import Any

from inspections.checker.asking.box_fill import NAME, ON_STRAP, Allowance, Fill
from inspections.checker.graph.wiring import Entry

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed, number, volume

DUST = 1e-6  # mL
TABLE = "a size in the table"

LINES = {
    "ending": "conductors of {awg} AWG that end here",
    "passing": "conductors of {awg} AWG that pass through",
    "looped": "conductors of {awg} AWG looped unbroken",
    "bonding": "bonding conductors, as one of {awg} AWG",
    "more bonding": "bonding conductors beyond those, of {awg} AWG",
    "isolated bonding": "isolated bonding conductors, as one of {awg} AWG",
    "clamps": "clamps inside, of {awg} AWG",
    "studs": "studs and hickeys, of {awg} AWG",
    "luminaire": "wires of a luminaire, {awg} AWG",
    "strap": "{about} on its strap, of {awg} AWG",
    "deep": "{about}, by its depth in mm",
    "connectors": "pairs of wire connectors, of {awg} AWG",
    "connector count": "pairs of wire connectors at the most, of {awg} AWG",
    "connector size": "pairs of wire connectors, if of the larger size",
    "strap size": "{about}, if the larger size ends on it",
}
MISSING = {
    "size": "the size of cable {about}",
    "clamps": "whether it has clamps inside",
    "depth": "how deep the {about} is behind its strap",
    "connector count": "how many wire connectors it holds",
    "connector size": "the size of conductor in its wire connectors",
    "strap size": "the size of conductor on the {about}",
    "volume": "what the box holds",
    "stock": "what box {about} holds",
    "cables": "which cables end at the box",
}


def tell(finding: Finding) -> FindingWords:
    """The sum against the box, line by line."""
    data, imperial = finding.facts, finding.imperial
    if data["beyond"]:
        says = f"The table has no volume for {data['beyond']} AWG; size this box another way."
        return FindingWords(says, "no volume", TABLE, (says,), "Look up how large it must be.")
    fill, has = (
        "not recorded" if data[name] is None else volume(data[name], imperial)
        for name in ("fill_ml", "has_ml")
    )
    missings = []
    for fact in data["missing"]:
        missings.append(_missing(fact))
    missing = list(dict.fromkeys(missings))
    says = {
        Verdict.MEETS: f"The box holds {has}; its fill is {fill}.",
        Verdict.SHORT: f"The fill is {fill}, more than the {has} that the box holds.",
        Verdict.UNKNOWN: f"Nobody recorded {listed(missing)}.",
    }[finding.verdict]
    figure = fill
    if finding.verdict is Verdict.UNKNOWN:
        figure = f"at least {fill}"
    remedy = {
        Verdict.SHORT: f"Change or extend the box to hold {fill}, or take cables out of it.",
        Verdict.UNKNOWN: f"Record {listed(missing)}.",
    }.get(finding.verdict, "")
    working = (*_working(finding, missing), f"in all {figure}", f"the box holds {has}")
    return FindingWords(says, figure, f"at most {has}", working, remedy)


def _working(finding: Finding, missing: list[str]) -> Iterator[str]:
    for line in finding.facts["lines"]:
        kind, count, each, awg, _, about = line
        what = LINES[kind].format(awg=awg, about=about)
        each_words = volume(each, finding.imperial)
        yield f"{what}: {number(count)} × {each_words} = {volume(count * each, finding.imperial)}"
    for fact in missing:
        worst = "; the same either way"
        if finding.verdict is Verdict.UNKNOWN:
            worst = ""
        yield f"not recorded: {fact}{worst}"


def _missing(fact: tuple[str, str]) -> str:
    return MISSING[fact[0]].format(about=fact[1])


@rule(NAME, topic="boxes", title="Box fill", tell=tell, scope=Scope.ROOM)
def box_fill(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Every box must be large enough for the conductors that enter it and what it holds.

    Conductors that end or pass are counted by size; then bonding conductors, clamps, studs,
    wire connectors and straps by the allowances of the code. A device deeper than the code's
    threshold takes a volume by its depth instead where the code says so. Conductors that never
    leave the box do not count.
    """
    book = site.rulebook
    if f"{NAME}.strap" not in book:
        return
    limits = {}
    for limit in book.limits_of(NAME):
        limits[limit.name.removeprefix(f"{NAME}.")] = limit
    fill = Fill(book, site.house.device_depth_mm)
    for box in site.house.boxes:
        entries = site.wiring.power_at(box.id)
        if entries or any(device.kind in ON_STRAP for device in box.devices):
            yield _box(this, site, box, entries, fill, limits)


def _box(
    this: Rule,
    site: HouseByCode,
    box: Box,
    entries: Sequence[Entry],
    fill: Fill,
    limits: dict[str, Limit],
) -> Finding:
    spot = site.box_spot(box)
    sure, doubts, least, most, beyond = sums = fill.sum(box, entries)
    if beyond:
        table = (limits[f"volume_{fill.largest_known}_ml"],)
        return Finding(this, box.id, Verdict.LOOK, spot, {"beyond": beyond}, table)
    total, missing, names = _holds(box, fill)
    missing += sums.missing
    if not entries:
        missing += [("cables", "")]
    verdict = Verdict.UNKNOWN
    if total is not None and least > total + DUST:
        verdict = Verdict.SHORT
    elif total is not None and entries and most <= total + DUST:
        verdict = Verdict.MEETS
    lines = sure
    fill_ml = least
    if verdict is Verdict.MEETS:
        lines = [*sure, *doubts]
        fill_ml = most
    data: dict[str, Any] = {
        "beyond": "",
        "lines": lines,
        "fill_ml": fill_ml,
        "has_ml": total,
        "missing": missing,
    }
    rests_on = []
    for name in dict.fromkeys([*names, *_names(lines)]):
        rests_on.append(limits[name])
    return Finding(this, box.id, verdict, spot, data, tuple(rests_on))


def _holds(box: Box, fill: Fill) -> tuple[float | None, list[tuple[str, str]], list[str]]:
    """What the box holds, what is missing to say so, and the limit it was read from."""
    volume_ml, table = box.volume_ml, ""
    if volume_ml is None and box.stock:
        volume_ml, table = fill.stock(box.stock)
    if volume_ml is None:
        return None, [("stock", box.stock) if box.stock else ("volume", "")], []
    return volume_ml + box.added_volume_ml, [], [table] if table else []


def _names(lines: Sequence[Allowance]) -> list[str]:
    volumes = []
    limits = []
    for line in lines:
        if line.awg:
            volumes.append(f"volume_{line.awg}_ml")
        if line.limit:
            limits.append(line.limit)
    return [*volumes, *limits] or ["strap"]

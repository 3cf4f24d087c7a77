"""Box fill, drawn from the cables that enter each box and what is inside it."""

from collections.abc import Iterator, Sequence

from inspections.checker.asking.box_fill import NAME, ON_STRAP, Fill
from inspections.checker.asking.box_fill_facts import (
    Allowance,
    BeyondTable,
    FillFacts,
    FillLacking,
    Unknown,
    fill_facts,
)
from inspections.checker.asking.box_fill_words import tell
from inspections.checker.asking.fill_fixes import fill_fixes
from inspections.checker.graph.wiring import Entry

from ..finding import Finding, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..rulebook import Limit
from ..site import HouseByCode

DUST = 1e-6  # mL


@rule(
    NAME,
    topic="boxes",
    title="Box fill",
    tell=tell,
    scope=Scope.ROOM,
    facts=FillFacts | BeyondTable,
    workmanship=True,
    fixes=fill_fixes,
)
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
        return Finding(this, box.id, Verdict.VERIFY, spot, BeyondTable(box.id, beyond), table)
    total, missing, names = _holds(box, fill)
    missing += sums.missing
    if not entries:
        missing.append(FillLacking(Unknown.CABLES))
    verdict = Verdict.INFO_NEEDED
    if total is not None and least > total + DUST:
        verdict = Verdict.NOT_TO_CODE
    elif total is not None and entries and most <= total + DUST:
        verdict = Verdict.OK
    lines = sure
    fill_ml = least
    if verdict is Verdict.OK:
        lines = [*sure, *doubts]
        fill_ml = most
    facts = fill_facts(box.id, lines, fill_ml, total, missing)
    rests_on = []
    for name in dict.fromkeys([*names, *_names(lines)]):
        rests_on.append(limits[name])
    return Finding(this, box.id, verdict, spot, facts, tuple(rests_on))


def _holds(box: Box, fill: Fill) -> tuple[float | None, list[FillLacking], list[str]]:
    """What the box holds, what is missing to say so, and the limit it was read from."""
    volume_ml, table = box.volume_ml, ""
    if volume_ml is None and box.stock:
        volume_ml, table = fill.stock(box.stock)
    if volume_ml is None:
        missing = FillLacking(Unknown.VOLUME)
        if box.stock:
            missing = FillLacking(Unknown.STOCK, stock=box.stock)
        return None, [missing], []
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

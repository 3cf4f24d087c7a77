"""The smallest box on the shelf that holds what ends in it, and what it is fixed to."""

import tomllib
from pathlib import Path

from config.messages.message import Listed, Rounding, Text, Volume
from inspections.checker.asking.box_fill import NAME, ON_STRAP, Fill
from inspections.checker.asking.box_fill_words import missing_of_fill
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, OnCeiling, OnWall
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode

from . import proposal_messages as says
from .places import BESIDE_MM
from .proposal import Fact, Found, Proposal, ProposalKind, Unsolved
from .wants import Wants

CUBIC_INCH_ML = 16.387064  # exactly
DUST = 1e-6  # mL
STOCK = tomllib.loads((Path(__file__).parent / "stock.toml").read_text("utf-8"))


def propose_boxes(house: House, book: Rulebook, wants: Wants) -> list[Found]:
    """A size for each box without one recorded at which cables end."""
    if f"{NAME}.strap" not in book:
        return []
    site = HouseByCode(house, book)
    fill = Fill(book, house.device_depth_mm)
    sizes: list[Found] = []
    for box in house.boxes:
        if box.volume_ml is None and box.stock is None and site.wiring.power_at(box.id):
            sizes.append(_size(site, box, fill, wants))
    return sizes


def _size(site: HouseByCode, box: Box, fill: Fill, wants: Wants) -> Found:
    sums = fill.sum(box, site.wiring.power_at(box.id))
    if sums.beyond:
        return Unsolved(box.id, says.NO_VOLUME(awg=sums.beyond), ProposalKind.BOXES)
    unsure = sums.most == float("inf")
    needs = sums.most
    if unsure:
        needs = sums.least
    smaller = []
    chosen = None
    for size in shelf(box):
        if size * CUBIC_INCH_ML >= needs - DUST:
            chosen = size
            break
        smaller.append(size)
    if chosen is None:
        return Unsolved(box.id, says.NO_BOX(fill=Volume(needs)), ProposalKind.BOXES)
    size, fill = Volume(chosen * CUBIC_INCH_ML), Volume(needs, Rounding.UP)
    told = says.BOX_SIZE(size=size, fill=fill, support=support(box, wants))
    if unsure:
        missing = Listed(tuple(missing_of_fill(sums.missing)))
        told = says.BOX_SIZE_DOUBT(
            size=size, fill=fill, missing=missing, support=support(box, wants)
        )
    proof = says.SMALLEST()
    if smaller:
        proof = says.NEXT_SMALLER(size=Volume(smaller[-1] * CUBIC_INCH_ML))
    fact = Fact(("boxes", box.id), "volume_ml", round(chosen * CUBIC_INCH_ML, 6))
    return Proposal(box.id, (), told, proof, ProposalKind.BOXES, facts=(fact,))


def shelf(box: Box) -> list[float]:
    """The volumes that a box of its kind comes in, cubic inches, the smallest first."""
    if isinstance(box.place, OnCeiling) or not _has_strap(box):
        small: list[float] = STOCK["ceiling"]["volumes"]
    else:
        wide = max(box.gangs, sum(device.gangs for device in box.devices))
        small = STOCK["gangs"].get(str(wide), [])
    least = min(small, default=0.0)
    large = []
    for size in STOCK["large"]["volumes"]:
        if size > least:
            large.append(size)
    return sorted({*small, *large})


def _has_strap(box: Box) -> bool:
    """Whether a device on a strap is in it, such as a switch."""
    return any(device.kind in ON_STRAP for device in box.devices)


def support(box: Box, wants: Wants) -> Text:
    """What holds the box, in words."""
    place = box.place
    if isinstance(place, OnCeiling):
        return says.ON_BRACE()
    if not isinstance(place, OnWall):
        return says.TO_FRAMING()
    off = min(place.at_mm % wants.stud_spacing_mm, -place.at_mm % wants.stud_spacing_mm)
    if off <= BESIDE_MM + 1:
        return says.TO_STUD()
    return says.ON_BLOCKING()

"""What both calculations of NEC Article 220 begin with: lighting and the circuits by count."""

from dataclasses import replace

from config.messages.values import FloorSize, Text, Value, VoltAmperes
from inspections.checker.house.service import SQUARE_FOOT
from inspections.checker.rulebook import Limit, Rulebook

from . import line_messages as says
from .facts import LoadFacts
from .ways import LoadLine

FEWEST = "standard-load."
"""The table that has the fewest circuits a dwelling may have, for both calculations."""


def general_lines(
    facts: LoadFacts, book: Rulebook, unit: Limit, each: Limit, wash: Limit
) -> list[LoadLine]:
    """Lighting by floor area, small-appliance and laundry circuits, in VA before any demand.

    `unit` is VA for each square foot, `each` and `wash` VA for a circuit.
    """
    area = 0.0
    if facts.floor:
        area = facts.floor.ft2 + (facts.basement.ft2 if facts.basement else 0)
    small = max(facts.small_appliance_circuits or 0, book.value(f"{FEWEST}min_small_appliance"))
    laundry = max(facts.laundry_circuits or 0, book.value(f"{FEWEST}min_laundry"))
    return [
        LoadLine(
            "general_lighting",
            says.GENERAL_LIGHTING(),
            area * unit.value,
            by_square_feet(area, VoltAmperes(unit.value)),
            (unit,),
            False,
        ),
        LoadLine(
            "small_appliance",
            says.SMALL_APPLIANCE(),
            small * each.value,
            says.EACH_OF(n=small, each=VoltAmperes(each.value)),
            (each,),
            False,
        ),
        LoadLine(
            "laundry",
            says.LAUNDRY(),
            laundry * wash.value,
            says.EACH_OF(n=laundry, each=VoltAmperes(wash.value)),
            (wash,),
            False,
        ),
    ]


def by_square_feet(area: float, each: Value) -> Text:
    """The working of so much for each square foot, in the unit that the code prints."""
    text = says.BY_AREA(area=FloorSize(area * SQUARE_FOOT), each=each)
    return replace(text, code_units="imperial")

"""What both calculations of NEC Article 220 begin with: lighting and the circuits by count."""

from inspections.checker.rulebook import Limit, Rulebook

from .facts import LoadFacts
from .ways import LoadLine, va

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
            "General lighting and receptacles",
            area * unit.value,
            f"{area:,.0f} ft² × {unit.value:g} VA",
            (unit,),
            False,
        ),
        LoadLine(
            "small_appliance",
            "Small-appliance circuits",
            small * each.value,
            f"{small} × {va(each.value)}",
            (each,),
            False,
        ),
        LoadLine(
            "laundry",
            "Laundry circuits",
            laundry * wash.value,
            f"{laundry} × {va(wash.value)}",
            (wash,),
            False,
        ),
    ]

"""A house with the insulation that was chosen after it was drawn."""

from inspections.checker.house import House
from inspections.checker.house.boxes import Insulation, InsulationKind
from inspections.models import InsulationChoice


def with_insulation(house: House, choice: InsulationChoice | None) -> House:
    """The house with the chosen insulation; unchanged where none was chosen."""
    if choice is None:
        return house
    kind = InsulationKind(choice.kind)
    chosen = Insulation(kind=kind, vapour_barrier=choice.vapour_barrier)
    return house.model_copy(update={"insulation": chosen})

"""Conductor sizes by table: ampacity, service conductors, electrode and bonding conductors."""

from dataclasses import dataclass
from typing import Any

from config.messages.message import Amperes, Percent, Text, Value
from inspections.checker.house.nouns import noun
from inspections.checker.house.service import Electrode
from inspections.checker.rulebook import Limit, Rulebook

from . import check_messages as says

SIZES = (
    *("14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0"),
    *("250", "300", "350", "400", "500", "600"),
)
"""From thin to thick: AWG, then kcmil."""


def rank(size: str) -> int:
    """The place of a size from thin to thick. Raises ValueError for one not in the tables."""
    return SIZES.index(size)


def size_words(size: str) -> str:
    """The size with its unit: 4 AWG, 2/0 AWG, 250 kcmil."""
    if rank(size) > rank("4/0"):
        return f"{size} kcmil"
    return f"{size} AWG"


def up_to(table: dict[str, Any], figure: float) -> Any:
    """The entry of the first bound that the figure does not pass; None beyond the last."""
    for bound in sorted(table, key=float):
        if figure <= float(bound):
            return table[bound]
    return None


def ampacity(size: str, material: str, celsius: int, book: Rulebook) -> float | None:
    """Amperes of a conductor in a raceway or cable at 30 °C; None when the tables lack it."""
    table: dict[str, float] | None = book.value(f"conductors.{material}_{celsius}_a")
    if table:
        return table.get(size)
    return None


@dataclass(frozen=True, slots=True)
class Sized:
    """A conductor by table: its size, how it was found, and where the table stands."""

    what: Text
    size: str
    working: Value
    limits: tuple[Limit, ...]

    @property
    def words(self) -> Value:
        """The size with its unit, or that the tables have none."""
        if self.size:
            return size_words(self.size)
        return says.NOT_IN_TABLES()


def thinnest(amps: float, material: str, celsius: int, book: Rulebook) -> str:
    """The thinnest conductor of at least so many amperes; empty when there is none."""
    table = book.value(f"conductors.{material}_{celsius}_a")
    for size in SIZES:
        if table.get(size, 0) >= amps:
            return size
    return ""


def service_conductor(rating_a: float, material: str, book: Rulebook) -> Sized:
    """The conductors of a dwelling's service that carry its whole load."""
    table = book.get(f"service.{material}")
    metal, rating = says.MATERIALS[material](), Amperes(rating_a)
    what = says.SERVICE_CONDUCTORS_OF(material=metal)
    if table is not None:
        size = up_to(table.value, rating_a)
        if size is not None:
            words = says.BY_SERVICE_TABLE(rating=rating, size=size_words(str(size)), material=metal)
            return Sized(what, str(size), words, (table,))
    column = book[f"conductors.{material}_75_a"]
    share = book.get("service.dwelling_pct")
    if share is None:
        size = thinnest(rating_a, material, 75, book)
        return Sized(what, size, says.BY_COLUMN(rating=rating), (column,))
    least = rating_a * share.value / 100
    working = says.BY_COLUMN_SHARE(rating=rating, share=Percent(share.value), least=Amperes(least))
    return Sized(what, thinnest(least, material, 75, book), working, (share, column))


def feeder_conductor(rating_a: float, material: str, book: Rulebook) -> Sized:
    """The conductors of a feeder that carries a part of the dwelling's load."""
    column = book[f"conductors.{material}_75_a"]
    size = thinnest(rating_a, material, 75, book)
    what = says.FEEDER(material=says.MATERIALS[material]())
    return Sized(what, size, says.BY_COLUMN(rating=Amperes(rating_a)), (column,))


def electrode_conductor(size: str, material: str, electrode: str, book: Rulebook) -> Sized:
    """The copper conductor to the grounding electrode, by the service's own conductors."""
    what = says.ELECTRODE_CONDUCTOR()
    least = book.get("electrode-conductor.min_copper")
    if least is not None:
        words = says.OR_THICKER(size=size_words(str(least.value)))
        return Sized(what, str(least.value), words, (least,))
    table = book[f"electrode-conductor.{material}"]
    bounds = sorted(table.value, key=rank)
    row = None
    for bound in bounds:
        if rank(size) <= rank(bound):
            row = bound
            break
    full = ""
    if row:
        full = str(table.value[row])
    kind = {"rod": "rod", "plate": "rod", "concrete_encased": "concrete_encased"}.get(electrode)
    enough = None
    if kind:
        enough = book[f"electrode-conductor.{kind}"]
    shown, metal = size_words(size), says.MATERIALS[material]()
    if enough and (not full or rank(str(enough.value)) < rank(full)):
        told = says.BY_ELECTRODE(size=shown, material=metal, electrode=noun(Electrode(electrode)))
        return Sized(what, str(enough.value), told, (enough,))
    return Sized(what, full, says.BY_SERVICE(size=shown, material=metal), (table,))


def bonding_conductor(breaker_a: float, book: Rulebook) -> Sized:
    """The copper bonding (equipment grounding) conductor behind an overcurrent device."""
    table = book["bonding-conductor.copper"]
    size = up_to(table.value, breaker_a)
    what = says.EQUIPMENT_CONDUCTOR()
    if book.code == "CEC":
        what = says.BONDING_CONDUCTOR()
    words = says.BEHIND(rating=Amperes(breaker_a))
    return Sized(what, "" if size is None else str(size), words, (table,))

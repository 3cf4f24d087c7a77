"""How long work takes: person-minutes by what there is to do."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path

from config.messages.message import Joined, Text, message
from config.messages.saying import said

_FILE = Path(__file__).parent / "rates.toml"
STARTING: Mapping[str, float] = tomllib.loads(_FILE.read_text("utf-8"))["minutes"]
"""Invented, to start from."""
MOST = 10_000
NO_TABLE = message("rates.no-table", "Give the rates as a table of minutes.")
NO_SUCH_RATE = message("rates.no-such", "There is no rate {name}. The rates are: {names}.")
OUT_OF_RANGE = message("rates.out-of-range", "{name}: {given} is not minutes from 0 to {most}.")


class RatesFault(ValueError):
    """What is wrong with which rate."""

    def __init__(self, text: Text) -> None:
        super().__init__(said(text))
        self.text = text


@dataclass(frozen=True, slots=True)
class Rates:
    """Person-minutes for one of each. What each covers stands in rates.toml."""

    box_rough_in: float
    cable_metre: float
    cable_unmeasured: float
    hole: float
    circuit_landed: float
    panel_set: float
    grounding: float
    deficiency: float
    failing_item: float
    device_finished: float
    luminaire_finished: float
    appliance_connected: float
    hookup: float
    test_circuit: float
    final_walk: float
    house_visit: float

    @classmethod
    def of(cls, given: object) -> "Rates":
        """Rates from a table. Raises RatesFault, which names what is wrong with which."""
        if not isinstance(given, Mapping):
            raise RatesFault(NO_TABLE())
        names = []
        for field in fields(cls):
            names.append(field.name)
        if unknown := sorted(set(given) - set(names)):
            named = Joined(tuple(names), ", ")
            raise RatesFault(NO_SUCH_RATE(name=str(unknown[0]), names=named))
        table = {**STARTING, **given}
        for name, value in table.items():
            number = isinstance(value, int | float) and not isinstance(value, bool)
            if not number or not 0 <= value <= MOST:
                raise RatesFault(OUT_OF_RANGE(name=name, given=str(value), most=MOST))
        return cls(**{name: float(table[name]) for name in names})


STARTING_RATES = Rates.of(STARTING)

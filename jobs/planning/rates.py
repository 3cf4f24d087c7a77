"""How long work takes: person-minutes by what there is to do."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path

_FILE = Path(__file__).parent / "rates.toml"
STARTING: Mapping[str, float] = tomllib.loads(_FILE.read_text("utf-8"))["minutes"]
"""Invented, to start from."""
MOST = 10_000


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
        """Rates from a table. Raises ValueError that names what is wrong with which."""
        if not isinstance(given, Mapping):
            raise ValueError("give the rates as a table of minutes")
        names = []
        for field in fields(cls):
            names.append(field.name)
        if unknown := sorted(set(given) - set(names)):
            raise ValueError(f"there is no rate {unknown[0]!r}; the rates are {', '.join(names)}")
        table = {**STARTING, **given}
        for name, value in table.items():
            number = isinstance(value, int | float) and not isinstance(value, bool)
            if not number or not 0 <= value <= MOST:
                raise ValueError(f"{name} must be minutes from 0 to {MOST}, not {value!r}")
        return cls(**{name: float(table[name]) for name in names})


STARTING_RATES = Rates.of(STARTING)

"""Lines of a panel as a person at it finds them: what is live, and what is locked off."""

from collections.abc import Sequence
from dataclasses import dataclass

from config.messages.message import Amperes, Value

from .check_messages import BREAKER
from .panel import PanelSchedule


@dataclass(frozen=True, slots=True)
class Breaker:
    """A line of the live list or of the locked-off list."""

    circuit: str
    """Its id in the house; empty for what the house does not have."""
    name: str
    breaker: Value
    spaces: Value
    feeds: Value
    legs: Value = ""
    amps: float | None = None


def locked_off(schedules: Sequence[PanelSchedule], on: set[str]) -> list[Breaker]:
    """Every circuit of the panels that is not among those."""
    lines: list[Breaker] = []
    for schedule in schedules:
        for branch in schedule.branches:
            if branch.circuit.id in on:
                continue
            if line := breaker_line(branch.circuit.id, schedules):
                lines.append(line)
    return lines


def breaker_line(circuit_id: str, schedules: Sequence[PanelSchedule]) -> Breaker | None:
    """A circuit as its panel has it; None where no panel has it."""
    for schedule in schedules:
        for branch in schedule.branches:
            circuit = branch.circuit
            if circuit.id == circuit_id:
                half = circuit.half or ""
                return Breaker(
                    circuit.id,
                    circuit.name,
                    BREAKER(amps=Amperes(circuit.breaker_a), poles=circuit.poles),
                    ", ".join(f"{slot}{half}" for slot in circuit.slots),
                    schedule.directory[circuit.id],
                )
    return None

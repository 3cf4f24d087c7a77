"""What moves a job on, and whose move it is. Pure: its stage and holds in, moves out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inspections.holds import ROUGH_IN_REASONS
from inspections.stages import Stage


@dataclass(frozen=True, slots=True)
class Move:
    """One thing that moves a job on."""

    who: str
    what: str


@dataclass(frozen=True, slots=True)
class AreaNow:
    """What the moves need to know of an area: its name, holds and whether it is cleared."""

    name: str
    holds: Sequence[tuple[str, str]]
    """Reason and `who: how` of each hold."""
    cleared: bool
    visit: str = ""
    """Where its latest unanswered visit stands; empty when none is on its way."""


def moves(stage: Stage, areas: Sequence[AreaNow]) -> list[Move]:
    """What moves the job on from its stage, each once, the crew's own work first."""
    found = list(dict.fromkeys(_moves(stage, areas)))
    return sorted(found, key=lambda move: move.who.startswith("office"))


def _moves(stage: Stage, areas: Sequence[AreaNow]) -> Iterator[Move]:
    if stage in _AFTER:
        yield _AFTER[stage]
        return
    if not areas:
        yield Move("crew lead", "record what was roughed in")
    for area in areas:
        if area.cleared:
            continue
        if not area.holds:
            yield Move("office", f"{area.name}: clear it for cover")
        for reason, lifted_by in area.holds:
            who, _, how = lifted_by.partition(": ")
            waiting = reason == "acceptance" and area.visit
            if waiting:
                yield Move("authority", f"{area.name}: the visit is {area.visit}")
            elif reason == "permit":
                yield Move(who, how)
            elif reason in ROUGH_IN_REASONS or stage == Stage.COVER_UP:
                yield Move(who, f"{area.name}: {how}")


_AFTER = {
    Stage.HOOKUP: Move("office", "ask for the construction hookup and record its reference"),
    Stage.FINISH: Move("crew lead", "finish: devices, luminaires, directory, tests"),
    Stage.FINAL: Move("office", "ask for the final visit and record the certificate"),
}

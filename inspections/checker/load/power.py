"""Faults of power: breakers that do not fit their panel, appliances on the wrong poles, more
conductors that carry current than there are.
"""

from collections.abc import Iterator
from typing import Any, TypeGuard

from . import reference_messages as words
from .faults import HouseFault
from .geometry import length_given, objects

Data = dict[str, Any]
LINE_TO_NEUTRAL = 150  # V; what a single pole can feed stays below


def power_faults(data: Data) -> Iterator[HouseFault]:
    """Every such fault in a house file's values."""
    yield from _slots(data)
    yield from _poles(data)
    yield from _voltages(data)
    yield from _wants(data)
    yield from _carrying(data)


def _objects(data: Data, kind: str) -> list[tuple[int, Data]]:
    return objects(data.get(kind))


def _slots(data: Data) -> Iterator[HouseFault]:
    """Spaces that a panel lacks, or that two breakers take; two halves may share one."""
    spaces = _by_id(data, "panels", "spaces")
    taken: dict[tuple[str, Any, str | None], str] = {}
    for index, circuit in _objects(data, "circuits"):
        slots, panel, half = circuit.get("slots"), circuit.get("panel"), circuit.get("half")
        if not isinstance(slots, list) or not isinstance(panel, str):
            continue
        if not isinstance(half, str):
            half = None
        for inner, slot in enumerate(slots):
            if not _whole(slot):
                continue
            path, most = f"circuits[{index}].slots[{inner}]", spaces.get(panel)
            if _whole(most) and slot > most:
                yield HouseFault(
                    path, words.NO_SPACE(panel=repr(panel), most=most, space=str(slot))
                )
            if other := _rival(taken, panel, slot, half):
                yield HouseFault(path, words.SPACE_TAKEN(space=str(slot), by=other))
            taken.setdefault((panel, slot, half), f"circuits[{index}]")


def _rival(
    taken: dict[tuple[str, Any, str | None], str], panel: str, slot: Any, half: str | None
) -> str:
    """The circuit that has the space already: all of it, or the same half."""
    halves: tuple[str | None, ...] = (half, None)
    if half is None:
        halves = (None, "a", "b")
    for each in halves:
        if other := taken.get((panel, slot, each)):
            return other
    return ""


def _poles(data: Data) -> Iterator[HouseFault]:
    """A breaker takes as many spaces as it has poles; a panel holds so many poles."""
    used: dict[str, int] = {}
    for index, circuit in _objects(data, "circuits"):
        poles, slots, panel = circuit.get("poles", 1), circuit.get("slots"), circuit.get("panel")
        if not _whole(poles) or not isinstance(panel, str):
            continue
        if isinstance(slots, list) and slots and len(slots) != poles:
            yield HouseFault(
                f"circuits[{index}].slots",
                words.SPACES_AND_POLES(spaces=len(slots), poles=poles),
            )
        if circuit.get("half") is not None and poles != 1:
            yield HouseFault(f"circuits[{index}].half", words.HALF_POLES())
        used[panel] = used.get(panel, 0) + poles
    yield from _full_panels(data, used)


def _full_panels(data: Data, used: dict[str, int]) -> Iterator[HouseFault]:
    """Panels with more poles on them than they have places, tandem breakers counted twice."""
    tandem_spaces = _by_id(data, "panels", "tandem_spaces")
    for index, panel in _objects(data, "panels"):
        name, most = panel.get("id"), panel.get("spaces")
        if isinstance(name, str) and isinstance(most, int) and _whole(most):
            room, tandem = most, tandem_spaces.get(name)
            if isinstance(tandem, list):
                room += len(tandem)
            if used.get(name, 0) > room:
                yield HouseFault(
                    f"panels[{index}].spaces",
                    words.PANEL_FULL(poles=used[name], places=room),
                )


def _voltages(data: Data) -> Iterator[HouseFault]:
    """A 240 V appliance on a single pole."""
    poles = _by_id(data, "circuits", "poles")
    fed = _fed_by_cables(data)
    for index, appliance in _objects(data, "appliances"):
        name, volts = appliance.get("id"), length_given(appliance.get("volts"))
        circuit = appliance.get("circuit") or (fed.get(name) if isinstance(name, str) else None)
        if volts is None or volts <= LINE_TO_NEUTRAL or not isinstance(circuit, str):
            continue
        if circuit in poles and _single(poles[circuit]):
            yield HouseFault(
                f"appliances[{index}].volts",
                words.ONE_POLE(volts=volts, circuit=repr(circuit)),
            )


def _fed_by_cables(data: Data) -> dict[str, str]:
    """The circuit of whatever a cable ends at."""
    fed: dict[str, str] = {}
    for _, cable in _objects(data, "cables"):
        ends, circuit = cable.get("ends"), cable.get("circuit")
        if isinstance(ends, list) and isinstance(circuit, str):
            for end in ends:
                if isinstance(end, str):
                    fed[end] = circuit
    return fed


def _wants(data: Data) -> Iterator[HouseFault]:
    """A wanted hookup circuit that the house does not have, or that has too few poles."""
    service = data.get("service")
    hookup = None
    if isinstance(service, dict):
        hookup = service.get("hookup")
    circuits = _by_id(data, "circuits", "poles")
    for index, want in objects(hookup.get("wants") if isinstance(hookup, dict) else None):
        name = want.get("circuit")
        if isinstance(name, str) and name not in circuits:
            path = f"service.hookup.wants[{index}].circuit"
            yield HouseFault(path, words.NO_SUCH["circuit"](name=repr(name)))
            continue
        volts = length_given(want.get("volts"))
        if volts and volts > LINE_TO_NEUTRAL and isinstance(name, str) and _single(circuits[name]):
            yield HouseFault(
                f"service.hookup.wants[{index}].volts",
                words.WANT_ONE_POLE(volts=volts, circuit=repr(name)),
            )


def _single(poles: Any) -> bool:
    return poles is None or poles == 1


def _by_id(data: Data, kind: str, key: str) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for _, part in _objects(data, kind):
        if isinstance(part.get("id"), str):
            values[part["id"]] = part.get(key)
    return values


def _whole(value: Any) -> TypeGuard[int]:
    return isinstance(value, int) and not isinstance(value, bool)


def _carrying(data: Data) -> Iterator[HouseFault]:
    """Conductors that carry current are among the insulated ones."""
    for index, cable in _objects(data, "cables"):
        carrying, insulated = cable.get("current_carrying"), cable.get("insulated", 2)
        if _whole(carrying) and _whole(insulated) and carrying > insulated:
            yield HouseFault(
                f"cables[{index}].current_carrying",
                words.CARRYING(carrying=carrying, insulated=insulated),
            )

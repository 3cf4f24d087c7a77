"""Load cases that stand beside this file as data, and what differs from each.

A case names rulebooks, facts and every figure of the calculation that its source prints.
`tolerance` is given where a source rounds; `contradicts` says in a line where one disagrees
with itself.
"""

import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.house.service import ApplianceKind, FloorArea, HeatControl
from inspections.checker.rulebook import Rulebook
from inspections.loads import Load, LoadFacts, service_load
from inspections.loads.cec import living_m2, quebec_charging
from inspections.loads.conductors import (
    bonding_conductor,
    electrode_conductor,
    service_conductor,
    thinnest,
    up_to,
)
from inspections.loads.legs import OnLeg, lighting_circuits, lines
from inspections.loads.nec_standard import fixed_loads
from tests.loads import kinds
from tests.sure import sure

CASES = Path(__file__).parent / "cases"
Case = dict[str, Any]
LOAD = re.compile(
    r"(?P<kind>\w+)(?::(?P<name>[\w ]+))? (?P<va>[\d.]+)(?:A@(?P<at>[\d.]+)V)?"
    r"(?: x(?P<count>\d+))?(?: (?P<volts>\d+)V)?(?P<motor> motor)?"
    r"(?: managed=(?P<managed>[\d.]+))?(?: leg=(?P<leg>[AB]))?"
)


def cases(file: str = "*") -> list[Case]:
    """Every load case in the files of that name, each with its file."""
    return [
        {"file": path.stem, **case}
        for path in sorted(CASES.glob(f"{file}.toml"))
        for case in tomllib.loads(path.read_text("utf-8"))["case"]
    ]


def run_case(case: Case, amendments: str | None = None) -> list[str]:
    """What differs from what the case expects, by every rulebook it names; empty when nothing."""
    wrong = []
    for book_id in case["rulebooks"]:
        book = load_rulebook(book_id, amendments)
        found = KINDS[case.get("kind", "load")](case, book)
        wrong += [f"{book_id}: {each}" for each in _differences(case, found)]
    return wrong


def _differences(case: Case, found: dict[str, Any]) -> Iterator[str]:
    allowed = case.get("tolerance", {})
    for name, expected in case["expect"].items():
        if name not in found:
            yield f"{name} is not computed; there are {', '.join(sorted(found))}"
            continue
        actual = found[name]
        if isinstance(expected, int | float) and not isinstance(expected, bool):
            off = allowed.get(name, 0.051 if name.endswith("_a") else 0.006)
            if not isinstance(actual, int | float) or abs(actual - expected) > off:
                yield f"{name} is {actual}, not {expected}"
        elif actual != expected:
            yield f"{name} is {actual}, not {expected}"


def facts(given: dict[str, Any]) -> LoadFacts:
    """The facts of a case: `floor = "1500 ft2"`, `loads = ["range 12000", ...]`."""
    plain = dict(given)
    loads = tuple(load for text in plain.pop("loads", []) for load in _loads(text))
    for name in ("floor", "basement"):
        if name in plain:
            value, unit = plain[name].split()
            plain[name] = FloorArea(value=float(value), unit=unit)
    if "heat_control" in plain:
        plain["heat_control"] = HeatControl(plain["heat_control"])
    return LoadFacts(loads=loads, **plain)


def _loads(text: str) -> Iterator[Load]:
    found = LOAD.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is not a load")
    at = float(found["at"]) if found["at"] else None
    watts = float(found["va"]) * (at or 1.0)
    managed = float(found["managed"]) if found["managed"] else None
    for _ in range(int(found["count"] or 1)):
        yield Load(
            id=found["name"] or found["kind"],
            kind=ApplianceKind(found["kind"]),
            va=watts,
            volts=float(found["volts"]) if found["volts"] else at,
            motor=bool(found["motor"]),
            managed_to_va=managed,
            leg=found["leg"] or "",
        )


def _load(case: Case, book: Rulebook) -> dict[str, Any]:
    """Every line of the way asked for, its sum, and the service that follows."""
    done = service_load(facts(case["facts"]), book)
    found: dict[str, Any] = {
        "need_a": done.need_a,
        "service_a": done.size_a,
        "verdict": done.verdict.value,
    }
    for sized in done.sized:
        what = said(sized.what).partition(",")[0].lower()
        what = what.replace("equipment grounding", "bonding")  # one table, two codes' words
        found[what.replace(" ", "_")] = sized.size
    for way in done.ways:
        found[f"{way.id}_va"], found[f"{way.id}_a"] = way.total_va, way.amps
    found["ways"] = [way.id for way in done.ways]
    way = next((way for way in done.ways if way.id == case.get("way")), done.ways[0])
    found |= {line.key: line.va for line in way.lines}
    found |= {"total": way.total_va, "amps_a": way.amps}
    found["left_out"] = [line.key for line in way.lines if line.left_out]
    if connected := found.get("fixed_connected"):
        share = found["fixed"] / connected
        found["fixed_each"] = [load.va * share for load in fixed_loads(done.facts, book)]
    if book.code == "CEC":
        found["living_m2"] = living_m2(done.facts, book)[0]
    return found


def _conductors(case: Case, book: Rulebook) -> dict[str, Any]:
    """Conductors by table for a service, an electrode, a breaker or a current."""
    given = case["given"]
    found: dict[str, Any] = {}
    for material in ("copper", "aluminum"):
        for rating in given.get("service_a", ()):
            sized = service_conductor(rating, material, book)
            found[f"{material}_{rating}"] = sized.size
        for electrode in given.get("electrodes", ()):
            for size in given.get(f"{material}_service", ()):
                sized = electrode_conductor(size, material, electrode, book)
                found[f"{electrode}_{material}_{size}"] = sized.size
        for amps in given.get("amps", ()):
            found[f"thinnest_{material}_{amps}"] = thinnest(amps, material, 75, book)
    for breaker in given.get("breakers", ()):
        found[f"bonding_{breaker}"] = bonding_conductor(breaker, book).size
    return found


def _quebec(case: Case, book: Rulebook) -> dict[str, Any]:
    """Vehicle charging by Quebec's amendment."""
    given = case["given"]
    each = quebec_charging(
        given["chargers"], given["heat_w"], given["range_and_water_heater"], book
    )
    return {f"charger_{number}": watts for number, watts in enumerate(each, 1)}


def _lines(case: Case, book: Rulebook) -> dict[str, Any]:
    """Two lines and the neutral in amperes."""
    given = dict(case["given"])
    for leg in ("on_a", "on_b"):
        given[leg] = [OnLeg(*each) for each in given[leg]]
    found = lines(**given, motor_pct=book.value("standard-load.motor_pct"))
    size = up_to(book.value("service.sizes_a"), max(found.a, found.b))
    return {"line_a": found.a, "line_b": found.b, "neutral": found.neutral, "service_a": size}


def _lighting_circuits(case: Case, book: Rulebook) -> dict[str, Any]:
    """The fewest lighting circuits, and those that the code asks for besides."""
    area = sure(facts({"floor": case["given"]["floor"]}).floor)
    volts = case["given"]["volts"]
    besides = sum(book.value(f"standard-load.min_{x}") for x in ("small_appliance", "laundry")) + 1
    load_va = area.ft2 * book.value("standard-load.lighting_va_per_ft2")
    found = {f"circuits_{a}": lighting_circuits(area, a, volts, book) for a in (15, 20)}
    found |= {f"with_the_others_{a}": found[f"circuits_{a}"] + besides for a in (15, 20)}
    return found | {"lighting_a": load_va / volts}


KINDS: dict[str, Callable[[Case, Rulebook], dict[str, Any]]] = {
    **kinds.KINDS,
    "load": _load,
    "conductors": _conductors,
    "lighting-circuits": _lighting_circuits,
    "lines": _lines,
    "quebec": _quebec,
}

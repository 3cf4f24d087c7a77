"""Tiny houses from a few words, and the cases that stand beside this file as data.

A length may be given as `length_mm`, `length_in` or `length_ft`, a volume as `volume_ml` or
`volume_in3`. `"missing"` stands for a fact that nobody recorded.
"""

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.checker.load import HouseFaults, load_house
from tests.sure import sure

CASES = Path(__file__).parent / "cases"
UNITS = {"_in": ("_mm", 25.4), "_ft": ("_mm", 304.8), "_in3": ("_ml", 16.387064)}
LETTERS = "abcdefghijklmnop"


def house(**parts: Any) -> House:
    """A house of one storey and one area with a panel `P`; lists of parts are filled out."""
    return House.model_validate_json(house_bytes(**parts))


def house_bytes(**parts: Any) -> bytes:
    """The same as a house file."""
    rooms = parts.pop("rooms", None) or [parts.pop("room", {})]
    receptacles = parts.pop("receptacles", [])
    boxes = [_box(index, given) for index, given in enumerate(parts.pop("boxes", []))]
    boxes += [_receptacle(index, words) for index, words in enumerate(receptacles, 1)]
    data = {
        "format": "studbay-house-1",
        "name": "Test house",
        "storeys": [{"id": "s", "name": "Main floor"}],
        "areas": [{"id": "area", "name": "Area"}],
        "rooms": [_room(given) for given in rooms],
        "panels": [{"id": "P", "room": "r"}],
        "boxes": boxes,
        "cables": [_cable(i, given) for i, given in enumerate(parts.pop("cables", []), 1)],
        "counters": [{"id": "K", "room": "r", **given} for given in parts.pop("counters", [])],
        "holes": [_hole(i, given) for i, given in enumerate(parts.pop("holes", []), 1)],
        "notches": [_seen("N", i, given) for i, given in enumerate(parts.pop("notches", []), 1)],
        "fastenings": [
            _seen("F", i, given) for i, given in enumerate(parts.pop("fastenings", []), 1)
        ],
        "bundles": [_seen("B", i, given) for i, given in enumerate(parts.pop("bundles", []), 1)],
        "separations": [{"room": "r", **given} for given in parts.pop("separations", [])],
        "heat_gaps": [{"room": "r", **given} for given in parts.pop("heat_gaps", [])],
        "crossings": [{"room": "r", **given} for given in parts.pop("crossings", [])],
        "circuits": [_circuit(given) for given in parts.pop("circuits", [])],
        **parts,
    }
    return json.dumps(_plain(data)).encode()


def findings(made: House, rulebook: str, amendments: str | None = None) -> dict[str, Finding]:
    """Every finding on the house by its key."""
    found = check(made, load_rulebook(rulebook, amendments))
    keyed = {finding.key: finding for finding in found}
    assert len(keyed) == len(found), "two findings share a key"
    return keyed


def _room(given: dict[str, Any]) -> dict[str, Any]:
    walls = [
        {"id": LETTERS[index], **(wall if isinstance(wall, dict) else _wall(wall))}
        for index, wall in enumerate(given.get("walls", []))
    ]
    room = {"id": "r", "name": "Room", "kind": "living", "area": "area", "storey": "s"}
    fixtures = given.get("fixtures", "missing")
    if fixtures != "missing":
        fixtures = [_fixture(f) if isinstance(f, str) else f for f in fixtures]
    return {**room, **given, "walls": walls, "fixtures": fixtures}


def _fixture(words: str) -> dict[str, Any]:
    """`basin B a@1000+600x550^850`: kind, id, wall, then at, width, depth and top; `?` unknown."""
    kind, name, *place = words.split()
    made: dict[str, Any] = {"id": name, "kind": kind}
    if place:
        wall, rest = place[0].split("@")
        figures = sure(re.fullmatch(r"([^+]+)\+([^x]+)x([^^]+)\^?(.*)", rest)).groups()
        named = zip(("at_mm", "width_mm", "depth_mm", "top_mm"), figures, strict=True)
        made |= {key: "missing" if each in ("", "?") else mm(each) for key, each in named}
        made["wall"] = wall
    return made


def _wall(words: float | str) -> dict[str, Any]:
    """`4000`, or `12ft door 1ft+3ft left, window 6ft+3ft sill 0`; `-90` first for a turn."""
    first, *openings = str(words).split(",")
    length, *opening = first.split(" ", 1)
    return {
        "length_mm": mm(length),
        "openings": [_opening(text) for text in [*opening, *openings] if text.strip()],
    }


def _opening(text: str) -> dict[str, Any]:
    kind, span, *rest = text.split()
    at, width = span.split("+")
    made: dict[str, Any] = {"kind": kind, "at_mm": mm(at), "width_mm": mm(width)}
    if "sill" in rest:
        made["sill_mm"] = mm(rest[rest.index("sill") + 1])
    elif rest:
        made["swing"] = rest[0]
    return made


def _box(index: int, given: dict[str, Any]) -> dict[str, Any]:
    place = {"surface": "space"}
    filled = {"id": f"b{index or ''}", "room": "r", "place": place, "clamps": "none", **given}
    filled.setdefault("connectors", 0)
    devices = filled.get("devices", [])
    filled["devices"] = [_device(d) if isinstance(d, str) else d for d in devices]
    if isinstance(filled["place"], str):
        filled["place"] = _place(filled["place"])
    return filled


def _device(words: str) -> dict[str, Any]:
    """`switch`, or `receptacle:c` on circuit c."""
    kind, _, circuit = words.partition(":")
    return {"kind": kind, **({"circuit": circuit} if circuit else {})}


def _circuit(given: dict[str, Any] | str) -> dict[str, Any]:
    """`c 15 2p @1,3 gfci &d trip 80%`: id, amperes, then what it has; or a table."""
    if not isinstance(given, str):
        return {"panel": "P", "name": given["id"], **given}
    name, amperes, *words = given.split()
    made: dict[str, Any] = {"id": name, "name": name, "panel": "P", "breaker_a": float(amperes)}
    for word in words:
        if word.startswith("@"):
            made["slots"] = [int(slot) for slot in word[1:].split(",")]
        elif word.startswith("&"):
            made["shares_neutral_with"] = word[1:]
        elif word.endswith("%"):
            made["continuous_percent"] = int(word[:-1])
        elif word in ("trip", "apart"):
            made["common_trip"] = word == "trip"
        elif word.endswith("p"):
            made["poles"] = int(word[:-1])
        else:
            made["protection"] = word
    return made


def _receptacle(index: int, words: str) -> dict[str, Any]:
    """`a@1000^300`: on wall a, 1000 mm from its left end, 300 mm up; `?` for not measured."""
    place, *more = words.split()
    extra: dict[str, Any] = {word: True for word in more if word == "in_cabinet"}
    extra |= {"dedicated_to": "range"} if "dedicated" in more else {}
    extra |= {"poles": 2} if "two-pole" in more else {}
    return _box(index, {"id": f"R{index}", "place": _place(place),
                        "devices": [{"kind": "receptacle", **extra}]})  # fmt: skip


def _place(words: str) -> dict[str, Any]:
    """`a@1000^300` on a wall, `a@1000_450` in the floor before it, `K@300=-150` at a counter;
    `ceiling`, or `ceiling@500x-300` on the plan."""
    if words.startswith("ceiling"):
        spot = words.partition("@")[2].partition("x")
        at = {"x_mm": float(spot[0]), "y_mm": float(spot[2])} if spot[0] else {}
        return {"surface": "ceiling", **at}
    where, rest = words.split("@")
    at, mark, last = sure(re.fullmatch(r"([^\^_=]+)([\^_=]?)(.*)", rest)).groups()
    place: dict[str, Any] = {"at_mm": at if at == "missing" else mm(at)}
    measure = "missing" if last in ("", "?") else mm(last)
    if mark == "=":
        return place | {"surface": "counter", "counter": where, "above_top_mm": measure}
    if mark == "_":
        return place | {"surface": "floor", "wall": where, "from_wall_mm": measure}
    return place | {"surface": "wall", "wall": where, "height_mm": measure if mark else 300}


def _cable(index: int, given: dict[str, Any] | str) -> dict[str, Any]:
    """`14/2 P b c`: 14 AWG, two insulated conductors, from P to b, of circuit c; or a table."""
    if isinstance(given, str):
        size, *words = given.split()
        awg, _, insulated = size.rpartition("/")
        given = {"awg": awg, "insulated": int(insulated), "ends": words[:2] or ["P", "b"]}
        given |= {"circuit": words[2]} if words[2:] else {}
    return {"id": f"C{index}", "kind": "nm", "ends": ["P", "b"], **given}


def _hole(index: int, given: dict[str, Any]) -> dict[str, Any]:
    return {"id": f"H{index}", "room": "r", "member": "stud", **given}


def _seen(letter: str, index: int, given: dict[str, Any]) -> dict[str, Any]:
    """A notch, staple or bundle of the room, numbered by its kind."""
    return {"id": f"{letter}{index}", "room": "r", **given}


def mm(text: str | float) -> float:
    """A length in mm: `1000`, `6ft`, `20.5in`."""
    number, unit = sure(re.fullmatch(r"(-?[\d.]+)(ft|in)?", str(text))).groups()
    return float(number) * {"ft": 304.8, "in": 25.4, None: 1.0}[unit]


def _plain(value: Any) -> Any:
    """Missing facts taken out, and units turned into those that a house file has."""
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    if not isinstance(value, dict):
        return value
    return dict(_key(key, _plain(each)) for key, each in value.items() if each != "missing")


def _key(key: str, value: Any) -> tuple[str, Any]:
    for ending, (to, factor) in UNITS.items():
        if key.endswith(ending) and isinstance(value, int | float):
            return key.removesuffix(ending) + to, value * factor
    return key, value


@dataclass
class Case:
    """One case: a house, rulebooks, what each finding must say, and where that is from."""

    file: str
    title: str
    rulebooks: list[str]
    section: str
    known: str
    expect: dict[str, Any]
    source: str = ""
    disputed: str = ""
    """Why we hold the source to be wrong: the case is kept, and must differ from it."""
    absent: list[str] = field(default_factory=list)
    amend: dict[str, Any] = field(default_factory=dict)
    """Limits as amended for the case, by name, in the units used inside."""
    house: dict[str, Any] = field(default_factory=dict)

    @cached_property
    def loaded(self) -> House:
        """Its house, by way of the loader that a user's file goes through."""
        return load_house(house_bytes(**json.loads(json.dumps(self.house))))

    @property
    def codes(self) -> list[str]:
        """The codes that it is about: CEC, NEC or both."""
        return sorted({book[:3].upper() for book in self.rulebooks})

    def check(self, rulebook: str, amendments: str | None = None) -> list[str]:
        """What differs from what the case expects."""
        overlay = self.amended(rulebook, amendments or "")
        found = findings(self.loaded, rulebook, overlay)
        wrong = [f"{key} should not be there" for key in self.absent if key in found]
        for key, expected in self.expect.items():
            if key not in found:
                wrong.append(f"no finding {key}; there are {sorted(found)}")
            else:
                wrong += _differences(key, expected, found[key])
        return wrong

    def amended(self, rulebook: str, amendments: str = "") -> str:
        """The amendments with the case's own, where they do not name the same limit."""
        plain = load_rulebook(rulebook)
        for name, value in self.amend.items():
            if f'"{name}"' not in amendments:
                amendments += (
                    f'\n[[amend]]\nlimit = "{name}"\nvalue = {json.dumps(value)}\n'
                    f'unit = "{plain[name].unit}"\nreason = "for the case"\n'
                )
        return amendments

    def faults(self, rulebook: str) -> list[str]:
        """What is wrong with the checker by this case; a disputed one has to differ."""
        try:
            wrong = self.check(rulebook)
        except HouseFaults as error:
            return [f"not a house file: {error}"]
        if not self.disputed:
            return wrong
        return [] if wrong else ["agrees with a source that the case disputes; take the mark out"]


def _differences(key: str, expected: Any, finding: Finding) -> Iterator[str]:
    if isinstance(expected, str):
        expected = {"verdict": expected}
    if finding.verdict != expected["verdict"]:
        yield f"{key} is {finding.verdict}, not {expected['verdict']}: {finding.words}"
    for name, figure in expected.items():
        if name != "verdict":
            name, figure = _key(name, figure)
            actual = _fact(finding.facts, name)
            if abs(actual - figure) > 0.05:
                yield f"{key} has {name} {actual}, not {figure}"


def _fact(facts: Any, name: str) -> Any:
    """The figure of that name, which a case may give without its unit: allowed for allowed_a."""
    if isinstance(facts, Mapping):
        return facts[name]
    for ending in ("", "_a", "_awg"):
        if hasattr(facts, f"{name}{ending}"):
            return getattr(facts, f"{name}{ending}")
    raise KeyError(name)


def cases(file: str = "*") -> list[Case]:
    """Every case in the files of that name."""
    return [
        Case(file=path.stem, **case)
        for path in sorted(CASES.glob(f"{file}.toml"))
        for case in tomllib.loads(path.read_text("utf-8"))["case"]
    ]

"""House files that load, and files that are refused with every fault at once."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspections.checker.house import House
from inspections.checker.load import HouseFault, HouseFaults, load_house
from inspections.management.commands.check_house import Command
from inspections.management.commands.house_schema import Command as SchemaCommand
from tests.conftest import EXAMPLES
from tests.inspections.terminal import run

from .malformed import MALFORMED
from .small import HOUSE, spoiled

ROOT = Path(__file__).resolve().parents[2]


def test_the_small_house_loads_as_it_is() -> None:
    house = load_house(json.dumps(HOUSE).encode())
    assert house.boxes[0].place.surface == "wall"
    assert load_house(b"\xef\xbb\xbf" + json.dumps(HOUSE).encode()) == house


def test_there_are_more_than_fifty_malformed_files() -> None:
    assert len(MALFORMED) >= 50


@pytest.mark.parametrize("name", MALFORMED)
def test_a_malformed_file_exits_2_with_a_line_that_names_the_fault(name: str, tmp_path) -> None:
    raw, line = MALFORMED[name]
    path = tmp_path / "house.json"
    path.write_bytes(raw)
    code, out, err = run(Command, str(path))
    assert (code, out) == (2, "")
    assert any(found.startswith(line) for found in err.splitlines()), err


@pytest.mark.parametrize("name", ["4 MB of brackets", "not UTF-8", "NaN", "a cable to no box"])
def test_so_it_does_in_a_process_of_its_own(name: str, tmp_path) -> None:
    raw, line = MALFORMED[name]
    path = tmp_path / "house.json"
    path.write_bytes(raw)
    done = subprocess.run(
        [sys.executable, "manage.py", "check_house", str(path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert line in done.stderr
    assert "Traceback" not in done.stderr


def test_faults_of_shape_and_of_reference_come_together_in_order() -> None:
    house = spoiled("rooms", 0, "walls", 1, "length_mm", value=-1)
    house["cables"][0]["ends"][1] = "R99"
    house["boxes"][0]["gangs"] = "two"
    house["surprise"] = 1
    with pytest.raises(HouseFaults) as refusal:
        load_house(json.dumps(house).encode())
    assert [fault.path for fault in refusal.value.faults] == [
        "boxes[0].gangs",
        "cables[0].ends[1]",
        "rooms[0].walls[1].length_mm",
        "surprise",
    ]


def test_a_file_of_faults_is_cut_off_with_their_number() -> None:
    house = HOUSE | {"storeys": [{"id": "main"}] * 3000}
    with pytest.raises(HouseFaults) as refusal:
        load_house(json.dumps(house).encode())
    assert len(refusal.value.faults) == 1001
    assert str(refusal.value.faults[-1]) == "and 4,999 more faults"


def test_the_published_schema_is_the_one_the_program_uses() -> None:
    _, out, _ = run(SchemaCommand)
    assert (EXAMPLES / "house.schema.json").read_text() == out


JSON_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["R1", "P1", "C1", "den", "n", "wall", "1"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=4,
)


def paths(value: Any, so_far: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path to every value in a JSON value."""
    found = [so_far] if so_far else []
    steps = value.items() if isinstance(value, dict) else ()
    steps = enumerate(value) if isinstance(value, list) else steps
    for step, inner in steps:
        found += paths(inner, (*so_far, step))
    return found


@settings(max_examples=400)
@given(path=st.sampled_from(paths(HOUSE)), value=JSON_VALUES)
def test_any_value_anywhere_loads_or_is_refused_and_never_breaks(path, value) -> None:
    raw = json.dumps(spoiled(*path, value=value)).encode()
    assert isinstance(loaded_or_faults(raw), House | tuple)


def loaded_or_faults(raw: bytes) -> House | tuple[HouseFault, ...]:
    """The house, or its faults, each of which says something."""
    try:
        return load_house(raw)
    except HouseFaults as refusal:
        return tuple(fault for fault in refusal.faults if fault.message)


@settings(max_examples=200)
@given(raw=st.binary(max_size=60))
def test_any_bytes_are_refused_and_never_break(raw: bytes) -> None:
    with pytest.raises(HouseFaults):
        load_house(raw)

"""From bare rooms to a house with nothing short: only added to, no more than is needed."""

import json
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.box_fill import Fill
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.graph.supply import TAKES_CURRENT
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, OnWall
from inspections.checker.load import load_house
from inspections.checker.site import HouseByCode
from inspections.propose.finish import finish_house
from inspections.propose.proposal import (
    Fact,
    NotMissing,
    Proposal,
    ProposalKind,
    Unsolved,
    with_proposals,
)
from inspections.propose.stock import CUBIC_INCH_ML, shelf
from inspections.propose.wants import Wants
from tests.lengths import examples
from tests.sure import of_kind, sure

from .bare_houses import bare_house

BOOKS = ["nec-2017", "nec-2020", "nec-2023", "cec-2018", "cec-2021", "cec-2024"]
MOST_GENERAL = {"nec": 10, "cec": 12}  # outlets on 15 A: the shop's own; CEC 8-304, or 1 A of 80 %


def bare(seed: int) -> House:
    """A house without wiring."""
    return load_house(json.dumps(bare_house(seed)).encode())


@examples(12, 2000, shrink=False)
@given(st.integers(0, 2**32), st.sampled_from(BOOKS))
def test_bare_rooms_become_a_house_with_nothing_short(seed, name) -> None:
    house, book = bare(seed), load_rulebook(name)
    done = finish_house(house, book)
    assert [(f.key, f.words.says) for f in done.short] == []
    assert any(f.verdict is Verdict.SHORT for f in check(house, book))
    assert load_house(done.house.model_dump_json().encode()) == done.house
    _only_added(house, done.house)
    _fewest_general(done.house, MOST_GENERAL[name[:3]])
    _legs(done.house)
    _fill(done.house, name)
    again = finish_house(done.house, book)
    assert again.proposals == []


def _only_added(before: House, after: House) -> None:
    for name in ("rooms", "counters", "panels", "appliances", "boxes", "circuits", "cables"):
        kept = {part.id: part for part in getattr(after, name)}
        for part in getattr(before, name):
            said = part.model_dump(exclude_none=True, exclude_defaults=True)
            _within(said, kept[part.id].model_dump())


def _within(said: object, now: Any) -> None:
    """Everything that was said is said still."""
    if isinstance(said, dict):
        for key, value in said.items():
            _within(value, now[key])
    elif isinstance(said, list | tuple):
        for one, other in zip(said, now, strict=True):
            _within(one, other)
    else:
        assert said == now


def _fewest_general(house: House, most: int) -> None:
    """General circuits, counted again by a model of their own."""
    boxes = {box.id: box for box in house.boxes}
    on: dict[str, list[tuple[str, int]]] = {}
    for box in house.boxes:
        for index, device in enumerate(box.devices):
            if device.circuit:
                on.setdefault(device.circuit, []).append((box.id, index))
    appliances = {appliance.circuit for appliance in house.appliances}
    sizes, circuits = [], 0
    for circuit in house.circuits:
        at = on.get(circuit.id, [])
        kinds = [boxes[b].devices[i] for b, i in at]
        plain = all(d.kind != "receptacle" or not d.dedicated_to for d in kinds)
        if circuit.breaker_a > 15 or circuit.id in appliances or not plain or _ruled(circuit.name):
            continue
        circuits += 1
        sizes += _units(boxes, at)
    assert circuits == _bins(sizes, most)


def _ruled(name: str) -> bool:
    return name.startswith(("Laundry", "Garage", "Outdoors", "Kitchen counter")) and "," not in name


def _units(boxes: dict[str, Box], at: list[tuple[str, int]]) -> list[int]:
    """The outlets of what must stay together: a switch with its lights, the alarms with a light."""
    left = set(at)
    sets: list[set[tuple[str, int]]] = []
    for b, i in at:
        targets = set(boxes[b].devices[i].controls or ())
        if targets:
            mine = {(b, i)} | {each for each in at if each[0] in targets}
            for other in [each for each in sets if each & mine]:
                mine |= other
                sets.remove(other)
            sets.append(mine)
    alarms = {(b, i) for b, i in at if "alarm" in boxes[b].devices[i].kind}
    if alarms:
        lit = next((each for each in sets), set())
        sets = [each for each in sets if each is not lit] + [lit | alarms]
    for each in sets:
        left -= each
    sets += [{each} for each in left]
    counts = [sum(boxes[b].devices[i].kind in TAKES_CURRENT for b, i in each) for each in sets]
    return [count for count in counts if count]


def _bins(sizes: list[int], most: int) -> int:
    """The fewest bins, by CP-SAT."""
    if not sizes:
        return 0
    bins = len(sizes)
    for count in range(-(-sum(sizes) // most), bins + 1):
        model = cp_model.CpModel()
        put = [[model.new_bool_var("") for _ in range(count)] for _ in sizes]
        for row in put:
            model.add_exactly_one(row)
        for n in range(count):
            model.add(sum(size * row[n] for size, row in zip(sizes, put, strict=True)) <= most)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        if solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return count
    raise AssertionError("no number of circuits holds them")


def _legs(house: House) -> None:
    """No space is taken twice, and single poles stand as evenly on the legs as numbers let them."""
    slots = [slot for circuit in house.circuits for slot in circuit.slots]
    assert len(slots) == len(set(slots))
    for circuit in house.circuits:
        assert len(circuit.slots) == circuit.poles
        assert all(b - a == 2 for a, b in pairwise(circuit.slots))
    on = [d.circuit for box in house.boxes for d in box.devices]
    on += [appliance.circuit for appliance in house.appliances]
    loads = {"A": 0, "B": 0}
    sums = {0}
    for circuit in house.circuits:
        if circuit.poles == 1:
            load = 1500 if circuit.breaker_a >= 20 else 180 * on.count(circuit.id)
            loads["AB"[(circuit.slots[0] - 1) // 2 % 2]] += load
            sums |= {each + load for each in sums}
    total = sum(loads.values())
    assert abs(loads["A"] - loads["B"]) == min(abs(total - 2 * each) for each in sums)


def _fill(house: House, name: str) -> None:
    """Each box is the smallest of its kind that holds what ends in it."""
    book = load_rulebook(name)
    site, fill = HouseByCode(house, book), Fill(book, house.device_depth_mm)
    for box in house.boxes:
        if not site.wiring.power_at(box.id):
            continue
        needs = fill.sum(box, site.wiring.power_at(box.id)).most
        volume = sure(box.volume_ml)
        smaller = [s for s in shelf(box) if s * CUBIC_INCH_ML < volume - 0.01]
        assert volume >= needs - 1e-6
        assert not smaller or smaller[-1] * CUBIC_INCH_ML < needs


def test_each_signal_outlet_gets_a_run_of_its_own_from_its_panel() -> None:
    seed = next(n for n in range(99) if len(bare_house(n)["panels"]) > 1 and bare_house(n)["boxes"])
    done = finish_house(bare(seed), load_rulebook("cec-2021"))
    runs = [cable for cable in done.house.cables if not cable.kind.carries_power]
    asked = sorted(box["id"] for box in bare_house(seed)["boxes"])
    assert sorted(cable.ends[1] for cable in runs) == asked
    assert {cable.ends[0] for cable in runs} == {"CP"}
    told = [said(p.says) for p in done.proposals if p.subject.endswith("/run")]
    below = "11 13/16 in. below power cables (2 in. required)"
    assert all(below in each for each in told)


def test_what_is_left_out_is_not_there_and_what_rests_on_it_neither() -> None:
    house, book = bare(5), load_rulebook("cec-2021")
    whole = finish_house(house, book)
    light = next(each for each in whole.proposals if each.kind is ProposalKind.LIGHTS)
    less = finish_house(house, book, left_out={light.key})
    boxes = {box.id for box in light.boxes}
    room = light.boxes[0].room
    assert boxes <= {box.id for box in whole.house.boxes}
    assert not any(
        d.kind == "luminaire" for b in less.house.boxes if b.room == room for d in b.devices
    )
    assert {finding.rule.id for finding in less.short} == {"lighting-outlets"}


def test_a_recorded_fact_is_never_overwritten() -> None:
    house = finish_house(bare(3), load_rulebook("cec-2021")).house
    box = house.boxes[0]
    fact = Fact(("boxes", box.id), "volume_ml", 1.0)
    with pytest.raises(NotMissing, match="volume_ml is recorded already"):
        with_proposals(house, [Proposal("x", (), "", "", facts=(fact,))])


def test_studs_and_heights_are_the_shops() -> None:
    house, book = bare(7), load_rulebook("nec-2023")
    done = finish_house(house, book, Wants(stud_spacing_mm=600.0, switch_height_mm=1100.0))
    switches = [box for box in done.house.boxes if box.devices[0].kind == "switch"]
    heights = {of_kind(OnWall, box.place).height_mm for box in switches}
    assert heights <= {1100.0, None}
    assert 1100.0 in heights


def test_without_a_panel_no_circuit_is_made_up() -> None:
    data = bare_house(11) | {"panels": []}
    done = finish_house(load_house(json.dumps(data).encode()), load_rulebook("cec-2021"))
    assert done.house.circuits == ()
    (circuits,) = [each for each in done.found if each.kind is ProposalKind.CIRCUITS]
    assert said(of_kind(Unsolved, circuits).why) == "Panel not recorded yet. Record it first."

"""A circuit as pulled: which cables stay, which are new, and what is removed with a cable."""

import json
from copy import deepcopy
from itertools import pairwise
from typing import Any

import pytest

from config.languages import say
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.house.paths import put_at
from inspections.checker.load import load_house
from inspections.fixes.as_pulled import NotARun, as_pulled, hops_of
from inspections.fixes.cables_changed import Hop

from . import planted

CIRCUITS = [each["id"] for each in planted.raw()["circuits"]]


def after(circuit: str, hops: list[Hop]) -> dict[str, Any]:
    house = deepcopy(planted.raw())
    for path, _, value in as_pulled(house, circuit, hops):
        put_at(house, path, deepcopy(value))
    return house


def long_run() -> tuple[str, list[Hop]]:
    """A circuit with a chain of three boxes or more, and its hops."""
    for circuit in CIRCUITS:
        hops = hops_of(planted.raw(), circuit)
        chain = all(a[1] == b[0] for a, b in pairwise(hops))
        if len(hops) > 3 and chain and len({end for _, end in hops}) == len(hops):
            return circuit, hops
    raise AssertionError("the planted house has no such circuit")


def runs(circuit: str) -> list[Hop]:
    """The hops of a circuit whose boxes are each fed once."""
    return hops_of(planted.raw(), circuit)


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_what_was_pulled_as_drawn_changes_nothing(circuit: str) -> None:
    hops = runs(circuit)
    assert as_pulled(planted.raw(), circuit, hops) == []


def test_two_boxes_that_were_swapped_have_new_cables_of_which_nothing_is_known() -> None:
    circuit, hops = long_run()
    order = [hops[0][0], *(end for _, end in hops)]
    order[2], order[3] = order[3], order[2]
    swapped = list(pairwise(order))
    house = after(circuit, swapped)
    assert sorted(hops_of(house, circuit)) == sorted(swapped)
    old = {cable["id"]: cable for cable in planted.raw()["cables"]}
    fresh = [each for each in house["cables"] if each["id"] not in old]
    assert len(fresh) == len({frozenset(hop) for hop in swapped} - {frozenset(hop) for hop in hops})
    for each in fresh:
        assert "length_mm" not in each
        assert "first_supports_mm" not in each
        assert each["awg"] in {c["awg"] for c in old.values() if c.get("circuit") == circuit}
    for each in house["cables"]:
        if each["id"] in old and each["ends"] == old[each["id"]]["ends"]:
            assert each == old[each["id"]]
    loaded = load_house(json.dumps(house).encode())
    paths = [
        finding
        for finding in check(loaded, planted.book())
        if finding.rule.id == "circuit-paths" and finding.subject == circuit
    ]
    assert [each.verdict for each in paths] == [Verdict.OK]


def test_what_names_a_cable_that_is_gone_loses_it_and_nothing_dangles() -> None:
    house = planted.raw()
    shared = set()
    for part in [*house["holes"], *house["bundles"]]:
        shared |= set(part["cables"])
    later = [each for each in house["cables"] if each["id"] in shared and each["ends"][0] != "P1"]
    circuit = next(each["circuit"] for each in later if each.get("circuit"))
    hops = [hop for hop in hops_of(house, circuit) if hop[0] == "P1"]
    changed = after(circuit, hops[:1])
    gone = {c["id"] for c in house["cables"]} - {c["id"] for c in changed["cables"]}
    assert gone
    named = json.dumps([changed[kind] for kind in ("holes", "notches", "fastenings", "bundles")])
    assert not [each for each in gone if f'"{each}"' in named]
    load_house(json.dumps(changed).encode())


@pytest.mark.parametrize(
    ("hops", "says"),
    [
        ([], "starts at panel P1"),
        ([("R1", "R2")], "starts at panel P1"),
        ([("P1", "R999")], "There is no R999"),
        ([("P1", "R1"), ("R2", "R3")], "R2 is not fed yet"),
        ([("P1", "R1"), ("R1", "R2"), ("P1", "R2")], "R2 is fed twice"),
        ([("P1", "R1"), ("R1", "P1")], "There is no P1"),
    ],
)
def test_what_is_no_run_is_refused_in_words(hops: list[Hop], says: str) -> None:
    with pytest.raises(NotARun) as refused:
        as_pulled(planted.raw(), "range", hops)
    assert says in say(refused.value.text, "en")


def test_a_circuit_that_is_gone_is_refused() -> None:
    with pytest.raises(NotARun, match=r"^pulled\.no-circuit$"):
        as_pulled(planted.raw(), "no such circuit", [("P1", "R1")])

"""What findings at the service say when a fact is missing, and what they rest on."""

from typing import Any

import pytest

from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.finding import Finding
from inspections.checker.rules.panel_spaces import PanelSpacesFacts
from tests.checker.build import findings, house


def at(key: str, book: str = "nec-2023", **parts) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def says(finding: Finding) -> str:
    """What it says, in the units of its code."""
    return said(finding.words.says, METRIC if finding.code == "CEC" else ENGLISH)


def remedy(finding: Finding) -> str:
    """What is to be done about it."""
    return said(finding.words.remedy)


def working(finding: Finding) -> list[str]:
    """The lines of its working."""
    return [said(line) for line in finding.words.working]


@pytest.mark.parametrize(
    ("pipe", "missing"),
    [
        ({"kind": "gas"}, "whether the gas piping is metal"),
        ({"kind": "gas", "metal": True}, "whether the gas piping is bonded"),
    ],
)
def test_what_is_missing_of_a_pipe(pipe: dict[str, Any], missing: str) -> None:
    finding = at("pipe-bonding:P/gas", grounding={"pipes": [pipe]})
    assert says(finding) == f"Not recorded yet: {missing}."


def test_a_pipe_that_may_be_plastic_shows_that_it_is_not_bonded() -> None:
    unknown = at("pipe-bonding:P/gas", grounding={"pipes": [{"kind": "gas", "bonded": False}]})
    assert working(unknown) == [
        "metal piping must be bonded; plastic need not",
        "it is not bonded",
    ]


def test_of_piping_that_is_all_missing_one_kind_is_told_when_one_is_required() -> None:
    overlay = '[[amend]]\nlimit = "pipe-bonding.gas"\nvalue = false\nunit = ""\nreason = "PEX"\n'
    found = findings(house(), "nec-2023", overlay)["pipe-bonding:P"]
    assert says(found) == "Not recorded yet: whether the water piping is metal."


def test_nothing_is_missing_of_a_pipe_that_is_not_bonded() -> None:
    pipe = {"kind": "water", "metal": True, "bonded": False}
    finding = at("pipe-bonding:P/water", grounding={"pipes": [pipe]})
    assert (finding.facts.metal, finding.facts.bonded) == (True, False)
    assert says(finding) == "The metal water piping is not bonded."


def test_what_is_missing_of_an_electrode_conductor() -> None:
    electrodes = [{"id": "W", "kind": "water_pipe"}, {"id": "V", "kind": "water_pipe"}]
    electrodes[1]["conductor"] = "4"
    first, second = (
        at(f"electrode-conductors:P/{name}", grounding={"electrodes": electrodes})
        for name in ("W", "V")
    )
    assert says(first) == (
        "Not recorded yet: the size of the grounding electrode conductor to metal water pipe W."
    )
    assert says(second) == "Not recorded yet: size and metal of the service conductors."
    assert working(second) == ["found: 4 AWG copper"]


def test_service_conductors_are_told_with_their_unit_and_metal() -> None:
    grounding = {"electrodes": [{"id": "W", "kind": "water_pipe", "conductor": "2"}]}
    service = {"conductor": "350", "material": "copper"}
    finding = at("electrode-conductors:P/W", grounding=grounding, service=service)
    assert says(finding) == (
        "Grounding electrode conductor to metal water pipe W is 2 AWG copper; 2 AWG minimum."
    )
    assert working(finding)[0] == "service conductors: 350 kcmil copper"


def test_a_rod_that_is_short_by_its_own_limit_may_be_enough_for_a_small_service() -> None:
    grounding = {"electrodes": [{"id": "R", "kind": "rod", "conductor": "8"}]}
    finding = at("electrode-conductors:P/R", grounding=grounding)
    assert working(finding)[0] == "not recorded yet: size and metal of the service conductors"


def test_a_directory_names_the_circuits_of_its_own_panel() -> None:
    panels = [{"id": "P", "room": "r"}, {"id": "F", "room": "r", "kind": "feeder"}]
    circuits = ["c 15", {"id": "d", "panel": "F", "breaker_a": 15}]
    for key, named in (("panel-directory:P", {"c"}), ("panel-directory:F", {"d"})):
        assert at(key, panels=panels, circuits=circuits).facts.circuits == named


def test_a_panel_of_which_nobody_read_the_spaces_says_which_fact_is_missing() -> None:
    finding = at("panel-spaces:P", "cec-2024", panels=[{"id": "P", "room": "r", "rating_a": 100}])
    assert says(finding) == "Not recorded yet: how many spaces panel P has."


@pytest.mark.parametrize(
    ("spaces", "circuits", "expected"),
    [
        (15, 14, "Panel P has 15 spaces (16 required), 1 spare (2 required)."),
        (16, 15, "Panel P has 1 spare space; 2 required."),
        (16, 18, "Circuits of panel P take 18 spaces; it has 16."),
    ],
)
def test_too_few_spaces_are_told_by_what_is_short(
    spaces: int, circuits: int, expected: str
) -> None:
    panel = {"id": "P", "room": "r", "rating_a": 60, "spaces": spaces}
    made = [f"c{number} 15" for number in range(circuits)]
    finding = at("panel-spaces:P", "cec-2024", panels=[panel], circuits=made)
    assert isinstance(finding.facts, PanelSpacesFacts)
    assert says(finding) == expected


def test_one_rod_is_told_with_its_resistance_where_that_counts() -> None:
    grounding = {"resistance_ohm": 40, "electrodes": [{"id": "R", "kind": "rod"}]}
    tested = at("electrodes:P", grounding=grounding)
    assert says(tested) == "Ground rod resistance is 40 Ω; 25 Ω maximum."
    assert remedy(tested) == "Drive another rod."
    assert says(at("electrodes:P", "cec-2024", grounding=grounding)) == "1 ground rod; 2 required."
    untested = at("electrodes:P", grounding={"electrodes": [{"id": "R", "kind": "rod"}]})
    assert remedy(untested) == "Drive another rod, or test this one: 25 Ω maximum."


def test_a_resistance_just_over_its_limit_is_not_rounded_onto_it() -> None:
    grounding = {"resistance_ohm": 25.001, "electrodes": [{"id": "R", "kind": "rod"}]}
    assert says(at("electrodes:P", grounding=grounding)) == (
        "Ground rod resistance is 25.1 Ω; 25 Ω maximum."
    )


def test_rods_are_told_by_the_worst_and_each_by_itself_in_the_working() -> None:
    rods = [
        {"id": "R10", "kind": "rod", "length_mm": 2500, "apart_mm": 1000},
        {"id": "R2", "kind": "rod", "length_mm": 2500, "apart_mm": 900},
        {"id": "R3", "kind": "rod", "apart_mm": 2000},
    ]
    finding = at("electrodes:P", grounding={"electrodes": rods})
    assert says(finding) == ("2 ground rods are too close: 2 ft 11 3/8 in. apart, 6 ft minimum.")
    assert working(finding)[2:4] == [
        "R2: 2 ft 11 3/8 in. to the next, 6 ft required",
        "R10: 3 ft 3 5/16 in. to the next, 6 ft required",
    ]
    assert working(finding)[-1] == (
        "not recorded yet: how deep ground rod R3 is driven; the same either way"
    )


def test_many_electrodes_are_counted() -> None:
    rods = []
    for number in range(4):
        rods.append({"id": f"R{number}", "kind": "rod", "length_mm": 2500, "apart_mm": 2000})
    finding = at("electrodes:P", grounding={"electrodes": rods})
    assert says(finding) == "The service is grounded to 4 electrodes."
    assert working(finding)[0].count("ground rod") == 4


def test_no_terminals_at_all_are_told_as_none() -> None:
    finding = at("intersystem-bonding:P", grounding={"intersystem_terminals": 0})
    assert says(finding) == "No intersystem bonding termination; 3 terminals required."
    assert remedy(finding) == "Install one outside the service enclosure."


def test_a_bonding_conductor_is_held_to_its_own_cable_where_that_allows_less() -> None:
    cables = [
        {"awg": "12", "bonding_awg": "14", "ends": ["P", "b"], "circuit": "c"},
        {"awg": "14", "bonding_awg": "14", "ends": ["P", "b"], "circuit": "c"},
    ]
    finding = at("bonding-conductors:c", circuits=["c 60"], boxes=[{"id": "b"}], cables=cables)
    assert says(finding) == (
        "14 AWG equipment grounding conductor in cable C1; 12 AWG minimum at 60 A."
    )
    assert "need not be larger than the circuit's own conductors" in working(finding)


def test_more_than_three_cables_are_counted_and_named_in_the_working() -> None:
    cables = []
    for _ in range(4):
        cables.append({"awg": "14", "bonding": 0, "ends": ["P", "b"], "circuit": "c"})
    made = {"circuits": ["c 15"], "boxes": [{"id": "b"}], "cables": cables}
    finding = at("bonding-conductors:c", "cec-2024", **made)
    assert says(finding) == "No bonding conductor in 4 cables."
    assert working(finding)[-1] == "none: cables C1, C2, C3, and C4"


def test_a_typed_room_name_is_no_fact_of_a_panel() -> None:
    plain = at("panel-places:P").fingerprint
    renamed = at("panel-places:P", rooms=[{"id": "r", "name": "Parlour"}]).fingerprint
    assert renamed == plain

"""What findings at the service say when a fact is missing, and what they rest on."""

import pytest

from inspections.checker.finding import Finding
from tests.checker.build import findings, house


def at(key: str, book: str = "nec-2023", **parts) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


@pytest.mark.parametrize(
    ("pipe", "says"),
    [
        ({"kind": "gas"}, "Nobody recorded whether the gas piping is metal."),
        ({"kind": "gas", "metal": True}, "Nobody recorded whether the gas piping is bonded."),
    ],
)
def test_what_is_missing_of_a_pipe(pipe: dict, says: str) -> None:
    assert at("pipe-bonding:P/gas", grounding={"pipes": [pipe]}).words.says == says


def test_nothing_is_missing_of_a_pipe_that_is_not_bonded() -> None:
    pipe = {"kind": "water", "metal": True, "bonded": False}
    assert at("pipe-bonding:P/water", grounding={"pipes": [pipe]}).data["missing"] == ""


def test_what_is_missing_of_an_electrode_conductor() -> None:
    electrodes = [{"id": "W", "kind": "water_pipe"}, {"id": "V", "kind": "water_pipe"}]
    electrodes[1]["conductor"] = "4"
    first, second = (
        at(f"electrode-conductors:P/{name}", grounding={"electrodes": electrodes}).words
        for name in ("W", "V")
    )
    assert first.says == "Nobody recorded the size of the conductor to water pipe W."
    assert second.says == "Nobody recorded the service conductors."
    assert second.working == (
        "service conductors: not recorded",
        "to water pipe V: at least not known; found 4 AWG copper",
    )


def test_service_conductors_are_told_with_their_unit_and_metal() -> None:
    grounding = {"electrodes": [{"id": "W", "kind": "water_pipe", "conductor": "2"}]}
    service = {"conductor": "350", "material": "copper"}
    words = at("electrode-conductors:P/W", grounding=grounding, service=service).words
    assert words.says == "The conductor to water pipe W is 2 AWG copper."
    assert words.working[0] == "service conductors: 350 kcmil copper"


def test_a_directory_names_the_circuits_of_its_own_panel() -> None:
    panels = [{"id": "P", "room": "r"}, {"id": "F", "room": "r", "kind": "feeder"}]
    circuits = ["c 15", {"id": "d", "panel": "F", "breaker_a": 15}]
    made = {"panels": panels, "circuits": circuits}
    assert at("panel-directory:P", **made).data["circuits"] == ["c"]
    assert at("panel-directory:F", **made).data["circuits"] == ["d"]


def test_a_panel_of_which_nobody_read_the_spaces_says_which_fact_is_missing() -> None:
    finding = at("panel-spaces:P", "cec-2024", panels=[{"id": "P", "room": "r", "rating_a": 100}])
    assert finding.words.says == "Nobody recorded the spaces of the panel."


def test_one_rod_is_told_with_its_resistance_where_that_counts() -> None:
    grounding = {"resistance_ohm": 40, "electrodes": [{"id": "R", "kind": "rod"}]}
    assert at("electrodes:P", grounding=grounding).words.says == (
        "Grounding is wanting: one rod alone, its resistance 40 ohm."
    )
    assert at("electrodes:P", "cec-2024", grounding=grounding).words.says == (
        "Grounding is wanting: one rod alone."
    )

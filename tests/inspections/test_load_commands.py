"""`service_load`, `panel_schedule` and `hookup_sheet` as a person at a terminal meets them."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from inspections.management.commands import hookup_sheet, panel_schedule, service_load
from tests.inspections.terminal import run
from tests.loads.test_hookup import READY
from tests.loads.test_panel import panel_data

COMMANDS = {
    "load": service_load.Command,
    "panel": panel_schedule.Command,
    "hookup": hookup_sheet.Command,
}


@pytest.fixture
def house(tmp_path):
    """A way to write a house file, changed as a test wants it."""

    def write(data: dict[str, Any] | None = None) -> str:
        given = data or panel_data()
        if data is None:
            given["service"]["hookup"] = READY
        path = tmp_path / "house.json"
        path.write_text(json.dumps(given))
        return str(path)

    return write


def test_a_service_that_meets_exits_0_with_every_line_and_its_section(house) -> None:
    code, out, err = run(service_load.Command, house())
    assert (code, err) == (0, "")
    assert re.search(r"Basic load +5,000 VA", out)
    assert "CEC 2021 8-200 1) a) i)" in out
    assert "Electric range" in out
    assert "2,000 VA at 100%" in out
    assert "[OK on plan ]  Calculated load, item a)" in out
    assert "A figure is not permission" in out


def test_a_short_service_exits_1_and_json_tells_the_same(house) -> None:
    data = panel_data()
    data["service"]["rating_a"] = 40
    code, out, _ = run(service_load.Command, house(data), "--format", "json")
    told = json.loads(out)
    assert code == 1
    assert told["verdict"] == "not_to_code"
    assert told["need_a"] == 60
    way = told["ways"][0]
    assert way["total_va"] == sum(line["va"] for line in way["lines"] if line["counts"])
    assert all(line["working"] for line in way["lines"])


def test_another_code_gives_its_ways_side_by_side(house) -> None:
    _, out, _ = run(service_load.Command, house(), "--rulebook", "nec-2023", "--format", "json")
    assert [way["id"] for way in json.loads(out)["ways"]] == ["nec-standard", "nec-optional"]


def test_the_panel_shows_circuits_balance_with_proof_and_card(house) -> None:
    code, out, _ = run(panel_schedule.Command, house())
    assert code == 0
    assert "4 arrangements compared: none brings the legs nearer than 0 VA of 2,880 VA." in out
    assert "Card for the door of panel P1" in out
    assert "Receptacles: Den" in out
    told = json.loads(run(panel_schedule.Command, house(), "--format", "json")[1])["panels"][0]
    assert told["free_spaces"] == 18
    assert told["best"]["imbalance_va"] == 0


def test_the_hookup_is_ready_only_with_permit_and_rough_in_in_hand(house) -> None:
    code, out, _ = run(hookup_sheet.Command, house())
    assert code == 1
    assert "[Info needed]  Permit issued" in out
    flags = ("--permit", "E-1", "--rough-in", "R-7")
    code, out, _ = run(hookup_sheet.Command, house(), *flags)
    assert code == 0
    for words in ("PROPOSED to be live", "LOCKED OUT and labelled", "Left out, and why"):
        assert words in out
    assert "LIVE during construction" not in out
    assert "Only the licensed person energizes, with the authority's authorization in hand." in out
    assert "does not cover" in out
    told = json.loads(run(hookup_sheet.Command, house(), *flags, "--format", "json")[1])
    assert [line["name"] for line in told["live"]] == ["Bar lights", "Heater east"]
    assert [line["circuit"] for line in told["locked_off"]] == ["1", "r", "h"]
    assert told["chosen"]["proven"]
    assert (told["live_is"], told["authorised"]) == ("proposed", None)


def test_what_the_authority_authorised_is_live_and_nothing_of_the_proposal(house) -> None:
    flags = ("--permit", "E-1", "--rough-in", "R-7", "--reference", "H-3", "--live", "r", "1")
    code, out, _ = run(hookup_sheet.Command, house(), *flags)
    assert code == 0
    assert "Authority's reference H-3." in out
    assert "LIVE during construction" in out
    assert "PROPOSED" not in out
    told = json.loads(run(hookup_sheet.Command, house(), *flags, "--format", "json")[1])
    assert [line["circuit"] for line in told["live"]] == ["r", "1"]
    assert [line["circuit"] for line in told["locked_off"]] == ["2", "h"]
    assert (told["live_is"], told["chosen"], told["warnings"]) == ("authorised", None, [])


@pytest.mark.parametrize("flags", [("--reference", "H-3"), ("--live", "1")])
def test_a_reference_without_circuits_or_circuits_without_one_are_refused(house, flags) -> None:
    code, out, err = run(hookup_sheet.Command, house(), *flags)
    assert (code, out) == (2, "")
    assert "--reference and --live: give both" in err


@pytest.mark.parametrize("name", COMMANDS)
def test_a_pdf_is_written_with_the_title_block_on_each_page(house, tmp_path, name) -> None:
    path = tmp_path / "sheet.pdf"
    _, out, _ = run(COMMANDS[name], house(), "--format", "pdf", "--output", str(path))
    assert out.strip() == str(path)
    pages = [page.extract_text() for page in PdfReader(path).pages]
    assert all("One room" in text for text in pages)
    assert "licenses nobody" in "".join(pages)


def test_text_goes_to_a_file_when_one_is_named(house, tmp_path) -> None:
    path = tmp_path / "load.txt"
    assert run(service_load.Command, house(), "--output", str(path))[1] == ""
    assert path.read_text().startswith("Load calculation: One room")


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"volt_amperes": -1}, "appliances[0].volt_amperes: must be at least 0"),
        ({"circuit": "1"}, "appliances[0].volts: 240 V on circuit '1', which has one pole"),
    ],
)
def test_a_bad_file_exits_2_and_writes_nothing(house, tmp_path, name, change, line) -> None:
    data = panel_data()
    data["appliances"][0] |= change
    path = tmp_path / "never.pdf"
    arguments = [house(data), "--format", "pdf", "--output", str(path)]
    code, out, err = run(COMMANDS[name], *arguments)
    assert (code, out) == (2, "")
    assert line in err
    assert not Path(path).exists()


def test_more_poles_than_spaces_and_an_area_in_the_wrong_unit_are_told(house) -> None:
    data = panel_data(spaces=5)
    code, _, err = run(panel_schedule.Command, house(data))
    assert code == 2
    assert "6 poles do not fit 5 places" in err
    data = panel_data()
    data["service"]["floor_area"] = {"value": 1500, "unit": "m2"}
    code, out, _ = run(service_load.Command, house(data))
    assert code == 1
    assert "If it was measured in square feet, set the unit to ft2." in out


def test_a_300_ampere_breaker_on_14_awg_is_told(house) -> None:
    data = panel_data()
    data["circuits"][0]["breaker_a"] = 300
    code, out, _ = run(panel_schedule.Command, house(data))
    assert code == 1
    assert "A 300 A breaker on 14 AWG copper; 15 A maximum." in out


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["nowhere.json"], "nowhere.json: no such file or directory"),
        (["HOUSE", "--rulebook", "nec-1911"], "no rulebook 'nec-1911'"),
        (["HOUSE", "--amendments", "nowhere.toml"], "nowhere.toml: no such file"),
    ],
)
def test_what_cannot_be_used_exits_2_with_a_line(house, arguments, line: str) -> None:
    given = [house() if each == "HOUSE" else each for each in arguments]
    code, _, err = run(service_load.Command, *given)
    assert code == 2
    assert err.startswith(line)


def test_an_amendment_is_laid_over_and_printed(house, tmp_path) -> None:
    overlay = tmp_path / "local.toml"
    overlay.write_text(
        '[[amend]]\nlimit = "hookup.max_circuits"\nvalue = 1\nunit = "circuits"\n'
        'reason = "district 4"\n'
    )
    _, out, _ = run(hookup_sheet.Command, house(), "--amendments", str(overlay))
    assert "amended: hookup.max_circuits 10 to 1 circuits: district 4" in out
    assert "1 circuit maximum" in out

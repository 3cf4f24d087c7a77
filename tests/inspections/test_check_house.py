"""`check_house` as a person at a terminal meets it."""

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from pypdf import PdfReader

from config.messages.message import Joined
from inspections.checker.finding import FindingWords
from inspections.management.commands.check_house import Command
from inspections.papers.report.beyond import working_beyond
from tests.conftest import EXAMPLES
from tests.inspections.terminal import run

ROOT = Path(__file__).resolve().parents[2]
PLANTED = str(EXAMPLES / "quillet-planted.json")
CORRECTED = str(EXAMPLES / "quillet-corrected.json")


def test_a_house_with_nothing_short_or_unknown_exits_0() -> None:
    code, out, err = run(Command, CORRECTED)
    assert (code, err) == (0, "")
    assert re.search(r"0 Not to code, \d+ Verify, 0 Info needed", out)


def test_every_planted_defect_is_found_and_nothing_else() -> None:
    code, out, _ = run(Command, PLANTED, "--format", "json")
    planted = tomllib.loads((EXAMPLES / "planted.toml").read_text())["defect"]
    found = {
        (f"{finding['rule']}:{finding['subject']}", finding["verdict"])
        for finding in json.loads(out)["findings"]
        if finding["verdict"] in ("not_to_code", "info_needed")
    }
    assert code == 1
    assert found == {(defect["key"], defect["verdict"]) for defect in planted}
    assert len(found) >= 12


def test_text_shows_working_limit_section_and_edition() -> None:
    _, out, _ = run(Command, PLANTED)
    assert "[ short ] Box fill: Main floor, Bedroom 2" not in out
    assert "CEC 2021 Table 22" in out
    assert "× 24.6 mL" in out
    assert "limit from memory, not read in a source" in out
    assert "licensed people" in out


def test_a_line_that_stands_within_a_sentence_is_no_repetition_of_it() -> None:
    words = FindingWords("11 cables enter box b.", working=("1 cable", "11 cables enter box b."))
    assert working_beyond(words, str) == ("1 cable",)


def test_a_sentence_is_found_however_deep_it_is_joined() -> None:
    says = Joined((Joined(("Box b is loose.", "(4 boxes)")), "Close it."))
    assert working_beyond(FindingWords(says, working=("Box b is loose.", "4 of 9")), str) == (
        "4 of 9",
    )


def test_working_does_not_repeat_the_sentence_above_it() -> None:
    _, out, _ = run(Command, PLANTED)
    assert out.count("Box T3 is loose.") == 1
    assert "Box R22 sits 3/8 in. behind the finished surface; 3/16 in. maximum." in out
    assert "Box R22 sits 9 mm behind the finished surface; 6 mm maximum." in out


def test_another_rulebook_may_be_asked_for() -> None:
    _, out, _ = run(Command, CORRECTED, "--rulebook", "nec-2023", "--format", "json")
    assert json.loads(out)["rulebook"]["id"] == "nec-2023"


def test_amendments_are_laid_over_and_printed(tmp_path) -> None:
    overlay = tmp_path / "local.toml"
    overlay.write_text(
        'name = "Fernhollow"\n[[amend]]\nlimit = "wide-box-support.braces"\nvalue = 2\n'
        'unit = "braces"\nreason = "wind"\n'
    )
    code, out, _ = run(Command, CORRECTED, "--amendments", str(overlay))
    assert code == 1
    assert "amended: wide-box-support.braces 1 to 2 braces: wind" in out


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["nowhere.json"], "nowhere.json: no such file or directory"),
        ([CORRECTED, "--rulebook", "nec-1911"], "no rulebook 'nec-1911'; there are cec-2018"),
        ([CORRECTED, "--amendments", "nowhere.toml"], "nowhere.toml: no such file"),
        ([CORRECTED, "--amendments", CORRECTED], "amendments: not TOML"),
    ],
)
def test_a_file_that_cannot_be_used_exits_2_with_a_line(arguments, line: str) -> None:
    code, out, err = run(Command, *arguments)
    assert (code, out) == (2, "")
    assert err.startswith(line)


def test_a_pdf_is_written_where_it_is_asked_for(tmp_path) -> None:
    path = tmp_path / "sheet.pdf"
    code, out, _ = run(Command, PLANTED, "--format", "pdf", "--output", str(path))
    assert (code, out.strip()) == (1, str(path))
    assert len(PdfReader(path).pages) > 5


def test_timing_tells_the_cpu_of_reading_of_the_rulebook_and_of_the_check() -> None:
    code, out, err = run(Command, CORRECTED, "--timing")
    assert code == 0
    assert re.fullmatch(r"CPU: read [\d.]+ ms, rulebook [\d.]+ ms, check [\d.]+ ms\n", err)
    assert "CPU" not in out


def test_a_house_comes_from_standard_input_too() -> None:
    done = subprocess.run(
        [sys.executable, "manage.py", "check_house", "-"],
        cwd=ROOT,
        input=Path(CORRECTED).read_bytes(),
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0

"""Cases and example houses are files that people read, compare with a source, and correct."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FILES = [
    *(ROOT / "tests/checker/cases").glob("*.toml"),
    *(ROOT / "tests/loads/cases").glob("*.toml"),
    *(ROOT / "examples").rglob("*.toml"),
    *(ROOT / "examples").rglob("*.json"),
]
WIDTH = 200
COMPUTED = re.compile(r"\d+\.\d{5,}")
"""A figure with more decimals than anybody measures or a code prints: 1066.7999999999997."""


def faults(text: str) -> list[str]:
    """The lines that are too long, or have a figure that no person wrote."""
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) >= WIDTH:
            found.append(f"line {number} has {len(line)} characters; break it before {WIDTH}")
        found += [f"line {number}: write {each} shorter" for each in COMPUTED.findall(line)]
    return found


@pytest.mark.parametrize("path", sorted(FILES), ids=lambda path: path.stem)
def test_a_file_of_cases_reads_as_a_person_wrote_it(path: Path) -> None:
    assert faults(path.read_text("utf-8")) == []


def test_every_folder_of_cases_is_read() -> None:
    folders = {path.parent for path in FILES}
    assert {path for path in (ROOT / "tests").rglob("cases") if path.is_dir()} <= folders
    assert len(FILES) > 100


def test_what_no_person_wrote_is_found_out() -> None:
    assert faults("width_mm = 1066.7999999999997\nlength_mm = 31.25\n") == [
        "line 1: write 1066.7999999999997 shorter"
    ]
    assert faults("x" * WIDTH) == ["line 1 has 200 characters; break it before 200"]

"""A house written as a workbook or as CSV files and read again is the same house."""

import io
import json
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from pydantic import BaseModel

from inspections.checker import House, house_json, load_house, read_house
from inspections.checker.house.boxes import OnCounter, OnWall
from inspections.checker.workbook import house_csv, house_xlsx
from inspections.checker.workbook.columns import Kind, sheets
from tests.checker.drawn_houses import drawn_house
from tests.conftest import EXAMPLES
from tests.lengths import examples

NAMES = ("quillet-planted.json", "marten.json", "gannet.json", "second/tamsel.json")


def loaded(name: str) -> House:
    return load_house((EXAMPLES / name).read_bytes())


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("write", [house_xlsx, house_csv])
def test_an_example_house_comes_back_as_it_was(name: str, write) -> None:
    house = loaded(name)
    raw = write(house)
    assert read_house(raw) == house
    assert load_house(house_json(raw)) == house


@given(seed=st.integers(0, 10_000_000))
@examples(12, 2_000)
def test_any_house_comes_back_by_each_way(seed: int) -> None:
    house = load_house(json.dumps(drawn_house(seed)).encode())
    assert load_house(house.model_dump_json().encode()) == house
    assert read_house(house_xlsx(house)) == house
    assert read_house(house_csv(house)) == house


@given(text=st.text(min_size=1, max_size=60).filter(lambda text: text.strip()))
@examples(60, 2_000)
def test_any_text_comes_back(text: str) -> None:
    data = json.loads((EXAMPLES / "gannet.json").read_text("utf-8"))
    data["note"] = text
    data["rooms"][0]["name"] = text
    house = load_house(json.dumps(data).encode())
    assert read_house(house_xlsx(house)) == house
    assert read_house(house_csv(house)) == house


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+x", "-x", "@x", "'=x", "'", "_x0041_", "a\tb\r\nc", "\x07", "ت 12", "=HYPERLINK(0)"],
)
def test_text_that_a_spreadsheet_would_run_is_text(text: str) -> None:
    data = json.loads((EXAMPLES / "gannet.json").read_text("utf-8"))
    data["note"] = text
    house = load_house(json.dumps(data).encode())
    raw = house_xlsx(house)
    assert read_house(raw) == house
    book = load_workbook(io.BytesIO(raw))
    assert all(c.data_type != "f" for page in book for row in page.iter_rows() for c in row)
    archive = zipfile.ZipFile(io.BytesIO(house_csv(house)))
    assert not archive.read("house.csv").decode().split("\r\n")[1].startswith(("=", "+", "-", "@"))
    assert read_house(house_csv(house)) == house


def test_every_field_of_a_house_has_its_column() -> None:
    """A field that is added to the model and has no column would be lost without a word."""

    def fields(model: type[BaseModel], at: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
        return {(*at, name) for name in model.model_fields}

    by_path = {sheet.path: {column.path for column in sheet.columns} for sheet in sheets()}
    boxes = by_path[("boxes",)]
    inner = {path[0] for paths in by_path.values() for path in paths}
    assert fields(House) - {("format",)} <= {
        (name,) for name in inner | {path[0] for path in by_path if path}
    }
    assert fields(OnWall, ("place",)) | fields(OnCounter, ("place",)) <= boxes
    kept = {name for sheet in sheets() for column in sheet.columns for name in column.path}
    kept |= {name for sheet in sheets() for name in sheet.path}
    schema = House.model_json_schema()["$defs"]
    said = {name for part in schema.values() for name in part.get("properties", {})}
    assert said <= kept


def test_the_workbook_says_units_needs_choices_and_examples() -> None:
    book = load_workbook(io.BytesIO(house_xlsx(None, loaded("gannet.json"))))
    walls = book["walls"]
    headers = [cell.value for cell in walls[1]]
    assert headers[:3] == ["room", "id", "length (mm)"]
    assert walls.max_row == 1
    assert "needed" in walls["C1"].comment.text
    rules = walls.data_validations.dataValidation
    assert {str(rule.sqref) for rule in rules} == {"E2:E2000", "F2:F2000"}
    kinds = next(rule for rule in rules if str(rule.sqref).startswith("E"))
    letter = kinds.formula1.split("$")[1]
    choices = [cell.value for cell in book["choices"][letter] if cell.value]
    wall = next(s for s in sheets() if s.name == "walls")
    assert choices == list(next(c.choices for c in wall.columns if c.path == ("kind",)))
    assert book["choices"].sheet_state == "hidden"
    notes = [row[1].value or "" for row in book["read me"].iter_rows()]
    assert any("12' 6\"" in line for line in notes)
    assert any(line.startswith("room: ") and "length (mm): " in line for line in notes)
    assert {column.kind for sheet in sheets() for column in sheet.columns} == set(Kind)


def test_an_empty_workbook_says_what_is_missing() -> None:
    with pytest.raises(Exception, match="storeys"):
        read_house(house_xlsx(None))

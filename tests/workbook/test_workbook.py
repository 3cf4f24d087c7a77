"""A house to a workbook and back is the same house, and no field of the model is left out."""

import json
from collections.abc import Iterator
from io import BytesIO
from random import Random
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from openpyxl import load_workbook

from inspections.checker.house import House
from inspections.checker.load import HouseFaults, load_house
from inspections.checker.workbook import csv_zip, read_house, xlsx
from inspections.checker.workbook.example import example
from inspections.checker.workbook.sheets import SINGULAR, CellKind, sheets
from inspections.checker.workbook.writing import sheet_rows
from inspections.management.commands.check_house import Command as CheckHouse
from inspections.management.commands.house_workbook import Command
from tests.checker.drawn_houses import drawn_house
from tests.conftest import EXAMPLES
from tests.inspections.terminal import run
from tests.lengths import examples
from tests.sure import sure

from .edited import BOOK, SMALL, edited, typed

SCHEMA = House.model_json_schema()
ODD = [
    "=1+1",
    "'quoted",
    "-5",
    "@x",
    "_x0041_",
    "a\r\nb",
    "tab\tand; semicolon",
    "½ ″",
    "1e5",
    "TRUE",
]


def _resolved(schema: dict[str, Any]) -> list[dict[str, Any]]:
    """What a schema may be, references followed and null left out."""
    if "$ref" in schema:
        return [SCHEMA["$defs"][schema["$ref"].rsplit("/", 1)[1]]]
    several = schema.get("anyOf") or schema.get("oneOf")
    if not several:
        return [] if schema.get("type") == "null" else [schema]
    return [found for each in several for found in _resolved(each)]


def _leaves(schema: dict[str, Any], path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Every value that the published schema of house files knows, by its path."""
    for each in _resolved(schema):
        if "properties" in each:
            for name, inner in each["properties"].items():
                yield from _leaves(inner, (*path, name))
        elif each.get("type") == "array" and any("properties" in i for i in _items(each)):
            yield from _leaves(each["items"], path)
        else:
            yield path


def _items(schema: dict[str, Any]) -> list[dict[str, Any]]:
    return _resolved(schema.get("items", {}))


def test_the_example_shows_every_sheet_that_it_fills() -> None:
    filled = [
        sheet.title
        for sheet, found in sheet_rows(example())
        if any(value is not None for row in found for value in row)
    ]
    page = load_workbook(BytesIO(BOOK))["Example"]
    first = [str(cell.value) for (cell,) in page.iter_rows(max_col=1)]
    shown = [text for text in first if text.startswith("On the sheet")]
    assert shown == [f"On the sheet {title}" for title in filled]


def test_every_field_of_the_model_has_a_column() -> None:
    def whole(sheet) -> tuple[str, ...]:
        return (*(whole(sheet.parent) if sheet.parent else ()), *sheet.within)

    columns = {(*whole(sheet), *column.path) for sheet in sheets() for column in sheet.columns}
    for path in _leaves(SCHEMA, ()):
        if path[-1] in ("device_depth_mm", "height_mm") and len(path) == 1:
            assert (*path, "receptacle") in columns
        else:
            assert path in columns, path


def test_no_two_columns_of_a_sheet_and_no_two_sheets_are_called_the_same() -> None:
    titles = [sheet.title.lower() for sheet in sheets()]
    assert len(set(titles)) == len(titles)
    assert all(len(title) <= 31 for title in titles)
    for sheet in sheets():
        assert len(set(sheet.headers)) == len(sheet.headers), sheet.title


def test_each_list_with_lists_of_its_own_can_be_named_by_its_rows() -> None:
    for sheet in sheets():
        if sheet.keys:
            columns = sure(sheet.parent).columns
            assert any(column.path == ("id",) for column in columns), sheet.title
    assert set(SINGULAR) <= {sheet.within[-1] for sheet in sheets() if sheet.within}


def _some(rng: Random, schema: dict[str, Any], key: str = "") -> Any:
    """A value that the schema allows, for the parts that drawn houses leave out."""
    each = rng.choice(_resolved(schema))
    if "enum" in each:
        return rng.choice(each["enum"])
    if "const" in each:
        return each["const"]
    if "properties" in each:
        required = each.get("required", [])
        return {
            name: _some(rng, inner, name)
            for name, inner in each["properties"].items()
            if name in required or (rng.random() < 0.6 and name != "circuit")
        }
    kind = each["type"]
    if kind == "array":
        return [_some(rng, each["items"]) for _ in range(rng.randint(0, 3))]
    if kind == "boolean":
        return rng.random() < 0.5
    if kind == "string":
        return f"E{rng.randrange(10**9)}" if key == "id" else rng.choice(ODD)
    low = each.get("minimum", each.get("exclusiveMinimum", 0) + 1)
    high = min(each.get("maximum", 100), low + 500)
    return rng.randint(int(low), int(high)) if kind == "integer" else rng.uniform(low, high)


def whole_house(seed: int) -> House | None:
    """A random house with facts of every part; None for one that no file could hold."""
    rng, data = Random(seed), drawn_house(seed)
    for key in ("service", "grounding", "insulation", "note"):
        if rng.random() < 0.7:
            data[key] = _some(rng, SCHEMA["properties"][key])
    if rng.random() < 0.5:
        data["height_mm"] = {"receptacle": rng.uniform(1, 500), "switch": 1200}
    for room in data["rooms"]:
        room["name"] = rng.choice([room["name"], *ODD])
    for box in data["boxes"]:
        for device in box.get("devices", ()):
            if device["kind"] == "luminaire" and rng.random() < 0.3:
                device["recessed"] = _some(rng, {"$ref": "#/$defs/Recessed"})
            if device["kind"] == "switch" and rng.random() < 0.3:
                device["controls"] = []
    try:
        return load_house(json.dumps(data).encode())
    except HouseFaults:
        return None


@examples(40, 2000)
@given(st.integers(0, 2**48))
def test_there_and_back_changes_nothing(seed: int) -> None:
    house = whole_house(seed)
    assume(house is not None)
    house = sure(house)
    assert load_house(house.model_dump_json().encode()) == house
    assert read_house(csv_zip(house)) == house
    assert read_house(xlsx(house)) == house


def test_most_random_houses_are_examples_and_have_every_part() -> None:
    kept = [house for seed in range(60) if (house := whole_house(seed))]
    assert len(kept) > 50
    assert any(house.service and house.service.hookup for house in kept)
    assert any(house.grounding and house.grounding.pipes == () for house in kept)


@pytest.mark.parametrize("name", ["quillet-corrected", "gannet", "second/tamsel"])
def test_an_example_comes_back_as_it_went(name: str, tmp_path) -> None:
    source, out = EXAMPLES / f"{name}.json", tmp_path / "house.xlsx"
    house = load_house(source.read_bytes())
    for path in (out, tmp_path / "house.zip"):
        assert run(Command, str(path), str(source))[0] == 0
        assert read_house(path.read_bytes()) == house
    assert run(CheckHouse, str(out))[1] == run(CheckHouse, str(source))[1]


def test_a_blank_workbook_asks_for_what_a_house_must_have(tmp_path) -> None:
    out = tmp_path / "blank.xlsx"
    assert run(Command, str(out)) == (0, "", "")
    with pytest.raises(HouseFaults) as faults:
        read_house(out.read_bytes())
    assert [str(fault) for fault in faults.value.faults] == ["House row 2, name: is missing"]


def test_what_cannot_be_written_is_refused(tmp_path) -> None:
    assert run(Command, str(tmp_path / "house.ods"))[2].endswith("must end in .xlsx or .zip\n")
    bad = tmp_path / "bad.json"
    bad.write_text("{}")
    assert run(Command, str(tmp_path / "out.xlsx"), str(bad))[0] == 2
    assert not (tmp_path / "out.xlsx").exists()


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("13' 1 1/2\"", 4000.5), ("13 ft 1.5 in", 4000.5), ("4 m", 4000), ("400cm", 4000),
        ("4000 mm", 4000), ("4e3", 4000), ("13′-1 ½″", 4000.5), ("157 1/2\"", 4000.5),
    ],
)  # fmt: skip
def test_a_length_is_read_as_it_is_typed(text: str, mm: float) -> None:
    def change(book) -> None:
        headers = [cell.value for cell in book["Walls"][1]]
        for row in (2, 4):
            book["Walls"].cell(row, headers.index("length (mm)") + 1).value = text

    assert read_house(edited(change)).rooms[0].walls[0].length_mm == mm


@pytest.mark.parametrize(
    ("text", "size"),
    [(14, "14"), ("14 AWG", "14"), ("#12", "12"), ("2.08 mm²", "14"), ("3.31 mm2", "12"),
     ("2/0", "2/0"), ("67.4 mm²", "2/0"), ("250 kcmil", "250"), ("AWG 10", "10")],
)  # fmt: skip
def test_a_wire_size_is_read_as_it_is_typed(text: Any, size: str) -> None:
    assert read_house(typed("Cables", 2, "awg", text)).cables[0].awg == size


def test_choices_are_offered_and_the_headers_explained() -> None:
    from io import BytesIO

    from openpyxl import load_workbook

    book = load_workbook(BytesIO(BOOK))
    for sheet in sheets():
        page = book[sheet.title]
        offered = {
            str(rule.sqref).rstrip("0123456789") for rule in page.data_validations.dataValidation
        }
        chosen = [c for c in sheet.columns if c.choices and not c.several]
        assert len(offered) >= len(chosen), sheet.title
        for column in sheet.columns:
            if column.kind is CellKind.NUMBER and column.path[-1].endswith("_mm"):
                assert column.header.endswith("(mm)")
    assert book.sheetnames[0] == "Notes"
    assert SMALL.name

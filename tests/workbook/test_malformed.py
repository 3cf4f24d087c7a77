"""Malformed workbooks: each a list of faults or a refusal, and nothing unpacked without bound."""

import re
import zipfile
from io import BytesIO

import pytest

from inspections.checker.load import HouseFaults
from inspections.checker.workbook import read_house, tables
from inspections.management.commands.check_house import Command
from tests.inspections.terminal import run

from .edited import BOOK, SMALL, edited, repacked
from .malformed import HOUSES, MALFORMED


def test_there_are_more_than_120_malformed_workbooks() -> None:
    assert len(MALFORMED) > 120


@pytest.mark.parametrize("name", MALFORMED)
def test_a_malformed_workbook_is_answered_with_its_faults(name: str) -> None:
    make, told = MALFORMED[name]
    with pytest.raises(HouseFaults) as faults:
        read_house(make())
    assert told in str(faults.value), str(faults.value)[:600]


def test_a_bomb_is_refused_before_anything_is_unpacked(monkeypatch) -> None:
    bomb = repacked(BOOK, **{HOUSES: bytes(tables.UNPACKED + 1)})
    monkeypatch.setattr(zipfile.ZipFile, "read", lambda *_: pytest.fail("unpacked"))
    with pytest.raises(HouseFaults, match="unpacks to more"):
        read_house(bomb)


def test_every_fault_is_told_in_one_go_in_the_order_of_the_sheets() -> None:
    def spoil(book) -> None:
        book["Rooms"]["C2"] = "ballroom"
        book["Walls"]["C3"] = "4 cubits"
        book["Walls"]["C2"] = "long"
        book["Cables"]["F2"] = 13
        book["Boxes"].merge_cells("A2:B2")

    with pytest.raises(HouseFaults) as raised:
        read_house(edited(spoil))
    told = [fault.path for fault in raised.value.faults]
    sheets = [path.split(" row")[0] for path in told]
    assert sheets == sorted(sheets, key=["Rooms", "Walls", "Boxes", "Cables"].index)
    assert "Walls row 2, length (mm) (C2)" in told
    assert told.index("Walls row 2, length (mm) (C2)") < told.index("Walls row 3, length (mm) (C3)")


def test_the_command_exits_2_and_names_the_cell(tmp_path) -> None:
    path = tmp_path / "house.xlsx"
    path.write_bytes(MALFORMED["a word for a length"][0]())
    code, out, err = run(Command, str(path))
    assert (code, out) == (2, "")
    assert err.startswith("Walls row 2, length (mm) (C2): must be a length such as")


def test_the_workbook_that_they_are_made_of_is_sound() -> None:
    assert read_house(BOOK) == SMALL
    assert read_house(edited(lambda book: None)) == SMALL


def test_text_that_sheets_share_is_read_as_other_programs_write_it() -> None:
    texts: list[bytes] = []

    def shared(found: re.Match[bytes]) -> bytes:
        texts.append(found[2])
        return found[1] + b't="s"><v>%d</v></c>' % (len(texts) - 1)

    cell = rb'(<c [^>]*)t="inlineStr"><is>(<t[^>]*>[^<]*</t>)</is></c>'
    with zipfile.ZipFile(BytesIO(BOOK)) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    for name in parts:
        if name.startswith("xl/worksheets/sheet"):
            parts[name] = re.sub(cell, shared, parts[name])
    items = b"".join(b"<si>%s</si>" % text for text in texts)
    parts["xl/sharedStrings.xml"] = b"<sst>" + items + b"</sst>"
    assert len(texts) > 300
    assert read_house(repacked(BOOK, **parts)) == SMALL

"""Whatever is wrong with a workbook is a list of faults or a refusal, and never anything else."""

import tracemalloc

import pytest

from inspections.checker import HouseFaults, house_json, read_house
from inspections.management.commands.check_house import Command
from tests.checker.workbook.malformed import Broken, changed, every, sound
from tests.inspections.terminal import run

BROKEN = every()


def test_there_are_many_and_the_sound_one_is_read() -> None:
    assert len(BROKEN) >= 120
    assert read_house(sound()).rooms


@pytest.mark.parametrize("broken", BROKEN, ids=lambda broken: broken[0])
def test_each_is_refused_with_its_place(broken: Broken) -> None:
    _, make, word = broken
    raw = make()
    with pytest.raises(HouseFaults) as caught:
        house_json(raw)
    said = str(caught.value)
    assert word in said
    assert all(len(line) < 600 for line in said.splitlines())


def test_every_fault_is_told_at_once_with_sheet_row_and_column() -> None:
    def change(book) -> None:
        book["walls"]["C2"] = "long"
        book["walls"]["C3"] = -4
        book["boxes"]["B2"] = "nowhere"

    with pytest.raises(HouseFaults) as caught:
        read_house(changed(change))
    said = str(caught.value)
    assert "sheet 'walls', C2 (length (mm)): 'long' is no length" in said
    assert "sheet 'walls', C3 (length (mm)): must be" in said
    assert "sheet 'boxes', B2 (room)" in said


def test_a_bomb_is_refused_before_it_is_unpacked() -> None:
    raw = next(make() for name, make, _ in BROKEN if name == "a bomb")
    tracemalloc.start()
    with pytest.raises(HouseFaults):
        house_json(raw)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 5_000_000


def test_the_command_takes_a_workbook_as_it_takes_a_house_file(tmp_path) -> None:
    path = tmp_path / "gannet.xlsx"
    path.write_bytes(sound())
    code, out, _ = run(Command, str(path))
    assert code in (0, 1)
    assert "box" in out
    path.write_bytes(sound()[:3000])
    code, out, err = run(Command, str(path))
    assert (code, out) == (2, "")
    assert "save it again" in err

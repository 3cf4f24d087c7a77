"""Which mutants are tried: those that change a program, and that docs/mutants.md does not name."""

from pathlib import Path

import pytest

from tests import mutants, mutants_in_place
from tests.mutants import Mutant, excused

MULTIPLIED = "ReplaceBinaryOperator_Mul_Div"
SOURCE = """
def area(length, *, width):
    return length * width
"""


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A file of a project in which a star is once an operator."""
    for module in (mutants, mutants_in_place):
        monkeypatch.setattr(module, "ROOT", tmp_path)
    (tmp_path / "plain.py").write_text(SOURCE, "utf-8")
    return "plain.py"


def test_the_star_of_a_signature_is_no_operator(file: str) -> None:
    tried = [
        each.name
        for each in mutants.mutants(file)
        if each.operator == MULTIPLIED and mutants_in_place._is_program(each)
    ]
    assert tried == [f"{file} {MULTIPLIED}: `return length * width` to `return length / width`"]


def test_what_is_no_program_is_not_tried(file: str) -> None:
    (Path(mutants.ROOT) / file).write_text("if n := 1:\n    pass\n", "utf-8")
    assert not mutants_in_place._is_program(Mutant(file, "AddNot", 0))


def test_reasons_are_given_for_mutants_that_are_and_for_a_handful_where_things_are_written() -> (
    None
):
    named = excused(*mutants_in_place.CHANGED)
    assert 0 < len(named) <= 5
    assert named <= {
        each.name for path in {name.split()[0] for name in named} for each in mutants.mutants(path)
    }
    assert not excused(*mutants_in_place.CHANGED) & excused(mutants.CHECKER)

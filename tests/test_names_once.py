"""One public name, one definition."""

import ast
from pathlib import Path

import pytest

from tests.names_once import twice

pytestmark = pytest.mark.any_database


def test_a_name_that_two_modules_define_is_named_with_both() -> None:
    one = ast.parse("def told() -> str: ...\ndef main() -> int: ...\ndef _own() -> int: ...")
    other = ast.parse("class told: ...\ndef main() -> int: ...\ndef _own() -> int: ...")
    (fault,) = twice({Path("a.py"): one, Path("b.py"): other})
    assert fault.startswith("told is defined in a.py, b.py")


def test_one_name_in_one_module_is_in_order() -> None:
    assert not list(twice({Path("a.py"): ast.parse("def told() -> str: ...")}))

"""What the threat model names exists: a test that went or was renamed defends nothing."""

import ast
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MODEL = (ROOT / "docs" / "threats.md").read_text("utf-8")
WHO = (
    "Shop against shop",
    "Shop against the server's network",
    "A caller's clock",
    "A lost phone",
    "A nosy builder",
    "An ex-employee",
    "A stolen backup",
)
"""Who must be in it."""


def paragraph(who: str) -> str:
    found = re.search(rf"\*\*{re.escape(who)}\.\*\*.*?(?=\n\n)", MODEL, re.DOTALL)
    assert found, f"{who} is not in the model"
    return found[0]


def named() -> set[str]:
    """Everything in it that is called like a test: paths, files, functions."""
    return {each for each in re.findall(r"`([^`\s]+)`", MODEL) if "test" in each}


def test_every_file_that_is_named_exists() -> None:
    files = {each for each in named() if each.endswith((".py", "/"))}
    assert len(files) > 25
    there = {path.name for path in (ROOT / "tests").rglob("*.py")}
    gone = {
        each for each in files if not ((ROOT / each).exists() if "/" in each else each in there)
    }
    assert gone == set()


def test_every_test_that_is_named_is_in_the_file_named_with_it() -> None:
    pairs = re.findall(r"((?:`test_\w+`(?:,| and)?\s+)+)in\s+`(tests/[\w/]+\.py)`", MODEL)
    functions = {each for each in named() if re.fullmatch(r"test_\w+", each)}
    seen = set()
    for names, path in pairs:
        tree = ast.parse((ROOT / path).read_text("utf-8"))
        there = {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
        wanted = set(re.findall(r"`(test_\w+)`", names))
        assert wanted <= there, f"not in {path}: {sorted(wanted - there)}"
        seen |= wanted
    assert functions == seen, "a test is named without its file"


def test_each_threat_says_what_holds_it() -> None:
    for who in WHO:
        assert re.search(r"`tests/[\w/]+\.py`", paragraph(who)), f"{who}: by what test?"

"""The papers on security say what is so: what they name is there, and their counts are right."""

import ast
import re
import tomllib
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PAPERS = ("asvs.md", "security.md", "threats.md")
TICKED = re.compile(r"`([^`\s]+)`")
PLACE = re.compile(
    r"^[\w.-]+(/[\w.-]*)+(::\w+)?$|^[\w-]+\.(py|md|toml|yml|txt|js|json|html)(::\w+)?$"
)
"""What in ticks is a file, a folder or a test. One without a folder is beside the one before it."""
ROW = re.compile(r"^\| (\d+\.\d+\.\d+) \| (.+?) \| (meets|does not|n\. a\.) \| (.+?) \|$")
HEAD = re.compile(r"\*\*(\d+) meets, (\d+) does not, (\d+) n\. a\.\*\*")
MOST = 5
"""So many may not be met; each is argued."""
OUTSIDE = ("application/", "image/", "text/", "multipart/")
KNOWN = tomllib.loads((ROOT / "tests/asvs_5_0_0.toml").read_text("utf-8"))


def named(text: str) -> Iterator[str]:
    """Every file, folder and test that a paper names in ticks, from the root of the project."""
    folder = ""
    for token in TICKED.findall(text):
        if not PLACE.match(token) or token.startswith(OUTSIDE):
            continue
        path = token.partition("::")[0]
        if "/" in path:
            folder = path.rstrip("/") if path.endswith("/") else path.rpartition("/")[0]
            yield token
        elif (ROOT / path).exists() or (ROOT / "docs" / path).exists():
            yield token if (ROOT / path).exists() else f"docs/{token}"
        else:
            yield f"{folder}/{token}"


@cache
def defined(path: Path) -> frozenset[str]:
    """Every function and class of a file."""
    tree = ast.parse(path.read_text("utf-8"))
    kinds = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef
    return frozenset(node.name for node in ast.walk(tree) if isinstance(node, kinds))


def missing(token: str) -> bool:
    """Whether what is named is not there."""
    path, _, name = token.partition("::")
    if token.startswith("/"):
        return False  # an address of the site
    found = ROOT / path
    return not found.exists() or bool(name and name not in defined(found))


@pytest.mark.parametrize("paper", PAPERS)
def test_whatever_a_paper_names_is_there(paper: str) -> None:
    text = (ROOT / "docs" / paper).read_text("utf-8")
    tokens = list(named(text))
    assert tokens
    assert [token for token in tokens if missing(token)] == []


def test_what_is_not_there_is_found_out() -> None:
    text = (
        "`tests/test_papers.py::test_gone`, `tests/nowhere.py`, `tests/api/test_api.py`, `gone.py`"
    )
    found = [token for token in named(text) if missing(token)]
    assert found == ["tests/test_papers.py::test_gone", "tests/nowhere.py", "tests/api/gone.py"]


def rows() -> list[tuple[str, str, str, str]]:
    """The requirements as docs/asvs.md has them: id, subject, verdict, by what."""
    lines = (ROOT / "docs/asvs.md").read_text("utf-8").splitlines()
    return [found.groups() for line in lines if (found := ROW.match(line))]


def test_each_requirement_of_levels_1_and_2_stands_there_once() -> None:
    wanted = [
        f"{section}.{number}" for section, all_of in KNOWN["sections"].items() for number in all_of
    ]
    assert len(wanted) == KNOWN["count"]
    assert [row[0] for row in rows()] == wanted


def test_the_counts_at_the_head_are_those_of_the_rows() -> None:
    text = (ROOT / "docs/asvs.md").read_text("utf-8")
    counts = Counter(verdict for _, _, verdict, _ in rows())
    head = HEAD.search(text)
    assert head is not None
    told = dict(zip(("meets", "does not", "n. a."), map(int, head.groups()), strict=True))
    assert told == dict(counts)
    assert counts["does not"] <= MOST, (
        f"{counts['does not']} requirements are not met, of {MOST} that may be"
    )


def test_what_is_met_names_a_place_and_the_rest_a_reason() -> None:
    bare = [
        number
        for number, _, verdict, by in rows()
        if (verdict == "meets" and not list(named(by))) or (verdict != "meets" and len(by) < 30)
    ]
    assert bare == []


def test_what_is_not_met_is_argued_by_name() -> None:
    text = (ROOT / "docs/asvs.md").read_text("utf-8")
    argued = text.partition("## What is not met")[2]
    assert [row[0] for row in rows() if row[2] == "does not" and f"**{row[0]}" not in argued] == []

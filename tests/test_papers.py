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
NOTES = ("faces", "facts", "guards", "messages", "planning", "record", "settling", "trying")
GUIDES = ("DEVELOPERS.md", *(f"docs/{name}.md" for name in NOTES))
GUIDE_LINES = 250
"""So much of the guide is read before a first change; what is longer stands in docs."""
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
NOT_THERE = ("NAME", "docs/rules")
"""In the guide: a name to be chosen, and what is built for whoever wants it."""
LINK = re.compile(r"\]\(([^)#]+)\)")
MAPPED = re.compile(r"^    ( *)((?:\w+/ +)+)")
"""A line of the map: how deep, and the folders that it is about."""
BUILDING = ("config", "jobs", "inspections", "notifications", "audit", "api", "pages")
DJANGO = ("management", "migrations", "templatetags", "__pycache__")
"""Folders that stand where Django looks for them."""
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


@pytest.mark.parametrize("paper", GUIDES)
def test_whatever_a_guide_names_or_leads_to_is_there(paper: str) -> None:
    text = (ROOT / paper).read_text("utf-8")
    tokens = [token for token in named(text) if not any(word in token for word in NOT_THERE)]
    assert tokens
    assert [token for token in tokens if missing(token)] == []
    folder = (ROOT / paper).parent
    assert [link for link in LINK.findall(text) if not (folder / link).exists()] == []


def test_the_guide_stays_short_enough_to_be_read() -> None:
    lines = (ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines()
    assert len(lines) <= GUIDE_LINES, f"{len(lines)} lines; move what was learnt into docs"
    assert max(map(len, lines)) < 200


def test_the_guide_leads_to_every_note() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert [paper for paper in GUIDES[1:] if f"({paper})" not in text] == []


def on_the_map() -> set[str]:
    """Every folder of the guide's map, from the root of the project."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## The map")[2]
    above: dict[int, str] = {}
    found = set()
    for line in text.partition("\n| read")[0].splitlines():
        drawn = MAPPED.match(line)
        if drawn is None:
            continue
        depth = len(drawn[1])
        for name in drawn[2].split():
            above[depth] = above.get(depth - 2, "") + name
            found.add(above[depth])
    return found


def test_the_map_shows_every_room_and_no_other() -> None:
    mapped = on_the_map()
    rooms = {f"{top}/" for top in BUILDING}
    for top in BUILDING:
        for path in (ROOT / top).iterdir():
            if path.is_dir() and path.name not in DJANGO and any(path.glob("*.*")):
                rooms.add(f"{top}/{path.name}/")
    assert rooms - mapped == set()
    assert [room for room in mapped if not (ROOT / room).exists()] == []


def test_what_is_not_there_is_found_out() -> None:
    text = (
        "`tests/test_papers.py::test_gone`, `tests/nowhere.py`, `tests/api/test_api.py`, `gone.py`"
    )
    found = [token for token in named(text) if missing(token)]
    assert found == ["tests/test_papers.py::test_gone", "tests/nowhere.py", "tests/api/gone.py"]


def rows() -> list[tuple[str, ...]]:
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

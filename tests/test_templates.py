"""The linter of templates finds what no browser would correct: put in once, each is told."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PLANTED = {
    "H005": "<html><head><title>t</title></head></html>",
    "H013": '<img src="a.png">',
    "H021": '<p style="color:red">a</p>',
    "H025": "<div><span>a</div>",
    "H037": '<p class="a" class="b">a</p>',
    "P001": "<script>alert(1)</script>",
    "P002": '<p onclick="go()">a</p>',
    "P003": "<style>a{}</style>",
    "T038": "{% if a %}b",
    "T039": "{% if a }b{% endif %}",
}
FINE = """{{ a|json_script:"b" }}<script src="{% static 'js/a.js' %}"></script><p>one</p>"""


def _found(folder: Path) -> dict[str, set[str]]:
    command = [str(Path(sys.executable).parent / "djlint"), str(folder), "--lint", "--quiet"]
    command += ["--configuration", str(ROOT / "pyproject.toml")]
    command += ["--rules", str(ROOT / "tests" / "templates.yaml")]
    command += ["--linter-output-format", "told {filename} {code}"]
    said = subprocess.run(command, capture_output=True, text=True, check=False).stdout
    found: dict[str, set[str]] = {}
    for name, code in re.findall(r"told \S*?(\w+)\.html (\w+)", said):
        found.setdefault(name, set()).add(code)
    return found


def test_each_planted_fault_is_told_and_what_is_fine_is_not(tmp_path) -> None:
    for code, text in PLANTED.items():
        (tmp_path / f"{code}.html").write_text(text)
    (tmp_path / "fine.html").write_text(FINE)
    found = _found(tmp_path)
    assert [code for code in PLANTED if code not in found.get(code, set())] == []
    assert "fine" not in found

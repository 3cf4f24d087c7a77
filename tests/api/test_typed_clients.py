"""Programs of strangers read a box fill by types made of the published schema, without a cast."""

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from inspections.checker.check import check
from inspections.checker.load import load_house
from inspections.checker.rulebook import plain_rulebook
from inspections.papers.report.as_json import report_json
from tests.api.made_client import ROOT, make_client

HERE = Path(__file__).resolve().parent / "typescript"
BIN = HERE / "node_modules" / ".bin"
READER = '''
"""Reads box fills as a stranger's program would: by the types of the client."""

import json
import sys

from studbay_client.models import BoxFillFinding, FactFillFacts, Findings
from studbay_client.models import FindingLimit


def box_fill(finding: BoxFillFinding) -> str | None:
    """What one finding says of the fill of a box: figure, limit, unit and section; or nothing."""
    facts = finding.facts
    if not isinstance(facts, FactFillFacts):
        return None
    fill: float = facts.fill_ml
    has: float | None = facts.has_ml
    has_words = "?"
    if has is not None:
        has_words = f"{has:.1f}"
    parts = [f"{fill:.1f} of {has_words} mL", finding.section]
    for each in finding.limits:
        parts.append(limit_words(each))
    return "; ".join(parts)


def limit_words(limit: FindingLimit) -> str:
    """A limit as a line says it."""
    name: str = limit.name
    unit: str = limit.unit
    section: str = limit.section
    return f"{name} {limit.value} {unit} ({section})"


for finding in Findings.from_dict(json.load(sys.stdin)).findings:
    if isinstance(finding, BoxFillFinding) and (line := box_fill(finding)):
        print(line)
'''


@pytest.fixture(scope="module")
def report() -> dict[str, Any]:
    """What the checker says of the corrected example house, as the API and the command give it."""
    house = load_house((ROOT / "examples" / "quillet-corrected.json").read_bytes())
    rulebook = plain_rulebook(house.rulebook)
    report: dict[str, Any] = json.loads(
        json.dumps(report_json(house, rulebook, check(house, rulebook)))
    )
    return report


@pytest.fixture(scope="module")
def fills(report: dict[str, Any]) -> list[str]:
    """What both readers must say, put together without any types."""

    def lines() -> Iterator[str]:
        for each in report["findings"]:
            facts = each["facts"]
            if each["rule"] != "box-fill" or "fill_ml" not in facts:
                continue
            parts = [f"{facts['fill_ml']:.1f} of {facts['has_ml']:.1f} mL", each["section"]]
            for limit in each["limits"]:
                parts.append(
                    f"{limit['name']} {limit['value']} {limit['unit']} ({limit['section']})"
                )
            yield "; ".join(parts)

    found = list(lines())
    assert len(found) > 50
    return found


def run(*command: str | Path, given: str = "", at: Path = HERE) -> str:
    """What a command prints; it must succeed."""
    done = subprocess.run(
        [str(part) for part in command],
        input=given,
        cwd=at,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_python(tmp_path: Path, report: dict[str, Any], fills: list[str]) -> None:
    make_client(tmp_path)
    (tmp_path / "reader.py").write_text(READER)
    strict: list[str | Path] = [
        "--strict",
        "--follow-imports=silent",
        "--config-file=",
        "--cache-dir",
        tmp_path / "c",
    ]
    run(sys.executable, "-m", "mypy", *strict, "reader.py", at=tmp_path)
    said = run(sys.executable, "reader.py", given=json.dumps(report), at=tmp_path)
    assert said.splitlines() == fills


def test_typescript(tmp_path: Path, report: dict[str, Any], fills: list[str]) -> None:
    remedy = "run `make test`, or `make tests/api/typescript/node_modules/.installed` first"
    assert BIN.is_dir(), remedy
    for name in ("box_fill.ts", "tsconfig.json"):
        shutil.copy(HERE / name, tmp_path)
    run(BIN / "openapi-typescript", ROOT / "docs" / "openapi.yaml", "-o", tmp_path / "api.d.ts")
    run(BIN / "tsc", "-p", tmp_path)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "main.js").write_text(
        'import { boxFill } from "./box_fill.js";\n'
        'import { readFileSync } from "node:fs";\n'
        "for (const each of JSON.parse(readFileSync(0)).findings) {\n"
        "  const line = boxFill(each);\n"
        "  if (line) console.log(line);\n"
        "}\n"
    )
    said = run("node", "main.js", given=json.dumps(report), at=tmp_path)
    assert said.splitlines() == fills

"""Fingerprints of the example houses, pinned: `python -m tests.checker.pinned` writes them.

An answer belongs to a fingerprint, so none may change unless the facts do: not by a word, an order,
a language, a unit or a library. A rule whose facts take another shape raises its version first.
"""

import json
import sys
from pathlib import Path
from typing import Any

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.facts import digest
from inspections.checker.load import load_house
from tests.conftest import EXAMPLES

FILE = Path(__file__).with_name("pinned.json")
HOUSES = (("quillet-planted", "cec-2021"), ("marten", "nec-2023"), ("gannet", "nec-2020"))


def pinned_now() -> dict[str, dict[str, Any]]:
    """By house and rule: the version of its facts and what stands for its fingerprints."""
    found: dict[str, dict[str, Any]] = {}
    for name, book in HOUSES:
        house = load_house((EXAMPLES / f"{name}.json").read_bytes())
        prints: dict[str, list[list[str]]] = {}
        versions: dict[str, int] = {}
        for finding in check(house, load_rulebook(book)):
            rule = finding.rule
            prints.setdefault(rule.id, []).append([finding.subject, finding.fingerprint])
            versions[rule.id] = rule.version
        found[f"{name} by {book}"] = {
            rule: [versions[rule], digest(sorted(pairs))] for rule, pairs in sorted(prints.items())
        }
    return found


def changed() -> list[str]:
    """Rules whose fingerprints are others, and whether their version says so."""
    kept, now = json.loads(FILE.read_text("utf-8")), pinned_now()
    faults = []
    for house, by_rule in now.items():
        for rule, (version, stands) in by_rule.items():
            was = kept.get(house, {}).get(rule)
            if was is None or was == [version, stands]:
                continue
            remedy = "raise its version, and say what carries over"
            if version > was[0]:
                remedy = "its version says so: write the file again"
            faults.append(f"{rule} on {house}: other fingerprints; {remedy}")
    return faults


if __name__ == "__main__":
    FILE.write_text(json.dumps(pinned_now(), indent=1) + "\n", "utf-8")
    sys.exit(0)

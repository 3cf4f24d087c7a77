"""The same house says the same, to the letter, in every process."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
from pathlib import Path
from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.load import load_house
for name in ("quillet-planted", "marten"):
    house = load_house(Path(f"examples/{name}.json").read_bytes())
    for book in ("cec-2021", "nec-2023"):
        for finding in check(house, load_rulebook(book)):
            words = finding.words
            says = (words.says, words.figure, words.limit, *words.working, words.remedy)
            print(finding.key, finding.verdict, finding.fingerprint, *map(said, says))
"""


def said(seed: int) -> str:
    surroundings = os.environ | {"PYTHONHASHSEED": str(seed)}
    command = [sys.executable, "-c", PROGRAM]
    done = subprocess.run(
        command, cwd=ROOT, env=surroundings, capture_output=True, text=True, timeout=120, check=True
    )
    return done.stdout


@pytest.mark.any_database
def test_words_and_fingerprints_do_not_hang_on_the_seed_of_hashes() -> None:
    first = said(1)
    assert first.count("\n") > 400
    assert said(2) == first
    assert said(3) == first

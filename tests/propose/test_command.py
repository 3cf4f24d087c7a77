"""The command that adds what a house is short of."""

import json

from inspections.checker.workbook import read_house
from inspections.management.commands.propose_house import Command
from tests.conftest import EXAMPLES
from tests.inspections.terminal import run


def test_receptacles_taken_out_of_a_house_are_proposed_again(tmp_path) -> None:
    data = json.loads((EXAMPLES / "second" / "tamsel.json").read_text())
    gone = [
        b for b in data["boxes"] if b["room"] == "bed1" and b["devices"][0]["kind"] == "receptacle"
    ]
    assert gone
    names = {box["id"] for box in gone}
    data["boxes"] = [box for box in data["boxes"] if box["id"] not in names]
    data["cables"] = [c for c in data["cables"] if not names & set(c["ends"])]
    for key in (
        "holes",
        "notches",
        "fastenings",
        "bundles",
        "separations",
        "crossings",
        "heat_gaps",
    ):
        data[key] = []
    bare, out = tmp_path / "bare.json", tmp_path / "out.xlsx"
    bare.write_text(json.dumps(data))
    kinds = ("lights", "alarms", "circuits", "cables", "boxes")
    without = [word for kind in kinds for word in ("--without", kind)]
    code, said, err = run(Command, str(bare), str(out), "--studs", "400", *without)
    assert (code, err) == (0, "")
    assert "no choice of 3 more reaches everywhere" in said
    assert "circuits:" in said
    assert "(left out)" in said
    before = {box["id"] for box in data["boxes"]}
    after = read_house(out.read_bytes())
    new = [box for box in after.boxes if box.id not in before]
    assert new
    assert {box.room for box in new} == {"bed1"}
    assert len(new) <= len(gone)


def test_a_bad_answer_writes_nothing(tmp_path) -> None:
    source, out = str(EXAMPLES / "gannet.json"), tmp_path / "out.txt"
    assert run(Command, source, str(out))[0] == 2
    assert run(Command, source, str(tmp_path / "o.json"), "--studs", "3")[0] == 2
    assert run(Command, source, str(tmp_path / "o.json"), "--rulebook", "nec-1900")[0] == 2
    assert run(Command, str(tmp_path / "none.json"), str(tmp_path / "o.json"))[0] == 2
    assert list(tmp_path.iterdir()) == []

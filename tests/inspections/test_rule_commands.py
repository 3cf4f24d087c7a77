"""The commands that explain rules: what they print and how they refuse."""

import pytest
from django.core.management import call_command

from inspections.checker import manual


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a command says when it ends with 2."""
    with pytest.raises(SystemExit) as ending:
        call_command(*words)
    assert ending.value.code == 2
    return capsys.readouterr().err


def test_explain_by_one_rulebook_and_by_all(capsys) -> None:
    call_command("explain", "box-fill", "--rulebook", "nec-2023")
    one = capsys.readouterr().out
    call_command("explain", "box-fill")
    every = capsys.readouterr().out
    assert "(nec-2023)" in one
    assert "(cec-2018)" not in one
    assert "(cec-2018)" in every
    assert "(nec-2023)" in every


def test_explain_refuses_an_unknown_rule_or_rulebook(capsys) -> None:
    assert "no rule 'box-fil'; did you mean box-fill?" in refused(capsys, "explain", "box-fil")
    said = refused(capsys, "explain", "box-fill", "--rulebook", "nec-1999")
    assert "no rulebook 'nec-1999'; there are cec-2018" in said


def test_rulebook_diff(capsys) -> None:
    call_command("rulebook_diff", "nec-2017", "nec-2020")
    assert "box-fill.bonding_each: new, 0.25 conductors" in capsys.readouterr().out
    assert "no rulebook 'nope'" in refused(capsys, "rulebook_diff", "nec-2017", "nope")


def test_pages_are_written_anew_and_those_of_rules_that_are_gone_taken_away(
    tmp_path, capsys
) -> None:
    folder = tmp_path / "rules"
    call_command("rule_pages", "--folder", str(folder))
    (folder / "box-fill.md").write_text("old", "utf-8")
    (folder / "wide-box-support.md").unlink()
    (folder / "gone.md").write_text("a rule that was", "utf-8")
    call_command("rule_pages", "--folder", str(folder))
    written = {path.name: path.read_text("utf-8") for path in folder.iterdir()}
    assert written == manual.pages()
    assert f"{len(written)} pages of rules in {folder}" in capsys.readouterr().out

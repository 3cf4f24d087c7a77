"""The commands that explain rules: what they print and how they refuse."""

import pytest
from django.core.management import call_command

from inspections.management.commands.rule_pages import FOLDER


def refused(capsys, *words: str) -> str:
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


def test_the_committed_pages_are_current(capsys) -> None:
    call_command("rule_pages", "--check")
    assert "all current" in capsys.readouterr().out
    assert FOLDER.is_dir()


def test_pages_that_are_stale_missing_or_left_over_are_named_and_mended(tmp_path, capsys) -> None:
    folder = ("--folder", str(tmp_path))
    call_command("rule_pages", *folder)
    (tmp_path / "box-fill.md").write_text("old", "utf-8")
    (tmp_path / "wide-box-support.md").unlink()
    (tmp_path / "gone.md").write_text("a rule that was", "utf-8")
    with pytest.raises(SystemExit) as ending:
        call_command("rule_pages", "--check", *folder)
    assert ending.value.code == 1
    said = capsys.readouterr().err
    assert "not current: box-fill.md, gone.md, wide-box-support.md; run `make docs`" in said
    assert (tmp_path / "gone.md").exists()
    call_command("rule_pages", *folder)
    call_command("rule_pages", "--check", *folder)
    assert not (tmp_path / "gone.md").exists()

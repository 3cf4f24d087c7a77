"""What a rule asks, in text and on a page, and how two rulebooks differ."""

import pytest

from config.messages.saying import said
from inspections.checker import manual
from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import rules
from inspections.checker.rulebook import rulebook_ids

OVERLAY = """
[[amend]]
limit = "hallway-receptacles.length_mm"
value = 8
unit = "ft"
reason = "the town asks for it"
"""


def told(rule: str, *books: str) -> list[str]:
    """The lines of an explanation."""
    return list(
        manual.explain_rule(manual.find_rule(rule), [load_rulebook(book) for book in books])
    )


def test_a_rule_is_told_with_each_limit_its_section_and_how_it_is_known() -> None:
    text = "\n".join(told("hallway-receptacles", "nec-2023"))
    assert text.startswith(
        "Receptacles in hallways (hallway-receptacles)\n"
        "topic: receptacles; checked at rough-in\n\nA hallway of some length has a receptacle"
    )
    assert text.endswith(
        "By NFPA 70, National Electrical Code, 2023 edition (nec-2023):\n"
        "  length_mm: 10 ft (3,048 mm)\n"
        "      210.52(H), read in: Electrical Contractor magazine, required receptacle outlets, "
        "part X (ecmag.com)"
    )


def test_memory_practice_notes_and_amendments_are_said() -> None:
    lines = told("wide-box-support", "cec-2021")
    assert "      beside 12-3010, common practice, no source" in lines
    assert "      26-722, from memory, not read in a source" in told(
        "hallway-receptacles", "cec-2021"
    )
    notes = told("communications-separation", "nec-2017")
    assert any("some inspectors and towns ask 2 in" in line for line in notes)
    book = load_rulebook("nec-2023", OVERLAY)
    amended = list(manual.explain_rule(manual.find_rule("hallway-receptacles"), [book]))
    assert "      210.52(H), amended from 3,048: the town asks for it" in amended


def test_a_code_without_a_limit_says_nothing() -> None:
    plain = load_rulebook("nec-2023")
    quiet = type(plain)("q", "NEC", "x", "Quiet", {})
    lines = list(manual.explain_rule(manual.find_rule("box-fill"), [quiet]))
    assert lines[-1] == "  no limit in this code; the rule says nothing"


def test_an_unknown_rule_is_refused_with_what_there_is() -> None:
    with pytest.raises(manual.UnknownRule, match="did you mean box-fill"):
        manual.find_rule("box-fil")
    with pytest.raises(manual.UnknownRule, match=r"there are .*box-fill, .*wide-box-support"):
        manual.find_rule("xyzzy")


def test_values_read_as_a_person_writes_them() -> None:
    book = load_rulebook("nec-2023")
    shown = {name: manual.limit_shown(limit) for name, limit in book.limits.items()}
    assert shown["box-fill.volume_14_ml"] == "2.0 in3 (32.774 mL)"
    assert shown["box-fill.strap"] == "2 conductors"
    assert shown["box-fill.bonding_each"] == "0.25 conductors"
    assert shown["box-fill.strap_by_gang"] == "yes"
    assert shown["communications-separation.shared_hole"] == "no"
    assert shown["communications-separation.distance_mm"].startswith("nm 0, ac 0,")
    assert shown["counter-receptacles.rooms"] == "kitchen, pantry, and dining"
    assert shown["counter-receptacles.below_mm"] == "0 in (0 mm)"


def test_what_changed_between_two_rulebooks() -> None:
    lines = list(manual.limit_differences(load_rulebook("nec-2020"), load_rulebook("nec-2023")))
    changed = {line.partition(":")[0]: line for line in lines[:-1]}
    assert changed["counter-receptacles.first_m2"] == (
        "counter-receptacles.first_m2: taken away; it was 9 ft2 (0.836 m²) (210.52(C)(2))"
    )
    assert changed["counter-receptacles.provision"].startswith(
        "counter-receptacles.provision: new, yes (210.52(C)(2), read in: Electrical Contractor"
    )
    assert "12 in (304.8 mm) to 0 in (0 mm)" in changed["counter-receptacles.below_mm"]
    assert lines[-1] == f"nec-2020 and nec-2023 differ in {len(lines) - 1} of their limits"


def test_a_section_that_moved_and_a_note_that_changed_are_differences() -> None:
    lines = list(manual.limit_differences(load_rulebook("nec-2017"), load_rulebook("nec-2020")))
    text = "\n".join(lines)
    assert "max_above_mm: section 210.52(C)(5) to 210.52(C)(3) (read in:" in text
    assert "bonding_first: note: the first four equipment grounding" in text


@pytest.mark.parametrize("book", rulebook_ids())
def test_a_rulebook_does_not_differ_from_itself(book) -> None:
    plain = load_rulebook(book)
    lines = list(manual.limit_differences(plain, plain))
    assert lines == [f"{book} and {book} differ in 0 of their limits"]


def test_every_rule_has_a_page_with_every_limit_and_its_basis() -> None:
    pages = manual.pages()
    assert set(pages) == {f"{name}.md" for name in rules()} | {"README.md"}
    for name in rules():
        text = pages[f"{name}.md"]
        assert f"]({name}.md)" in pages["README.md"]
        for book in map(load_rulebook, rulebook_ids()):
            for limit in book.limits_of(name):
                assert f"| `{manual.limit_name(limit)}` |" in text
                assert manual.limit_shown(limit) in text
                assert limit.section in text
                assert said(manual.basis(limit)) in text


def test_a_page_puts_editions_side_by_side() -> None:
    text = manual.rule_markdown(manual.find_rule("box-fill"))
    row = next(line for line in text.splitlines() if line.startswith("| `studs_together`"))
    assert row == "| `studs_together` | yes | – | – | 12-3034 2) | memory |"
    assert "| limit | 2018 | 2021 | 2024 | section | known |\n| --- | --- | --- |" in text
    row = next(line for line in text.splitlines() if line.startswith("| `bonding_free`"))
    assert row == "| `bonding_free` | – | 4 conductors | 4 conductors | 314.16(B)(5) | read |"


def test_a_code_that_is_silent_says_so_on_the_page(monkeypatch) -> None:
    plain = load_rulebook("nec-2023")
    quiet = type(plain)("q", "NEC", "x", "Quiet", {})
    monkeypatch.setattr(manual, "_by_code", lambda: {"NEC": [quiet]})
    assert manual.rule_markdown(manual.find_rule("box-fill")).endswith(
        "## NEC\n\nThis code has no limit for it; the rule says nothing.\n"
    )

"""What a person may write into a cell, and what is refused with what to write instead."""

import pytest

from inspections.checker.workbook.cells import Wrong, area_mm2, parsed, written
from inspections.checker.workbook.columns import Column, Kind, sheets

LENGTH = Column(("length_mm",), Kind.LENGTH)
GAUGE = next(c for s in sheets() if s.name == "cables" for c in s.columns if c.path == ("awg",))
SLOTS = Column(("slots",), Kind.INTEGER, many=True)
FIRST = Column(("first_supports_mm",), Kind.LENGTH, many=True, gaps=True)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        (3810, 3810),
        ("3810", 3810),
        ("3810.5", 3810.5),
        ("3.81 m", 3810),
        ("381cm", 3810),
        ("25 mm", 25),
        ("-2.5 m", -2500),
        ("12' 6 1/2\"", 3822.7),
        ("12' 6\"", 3810),
        ("12'6\"", 3810),
        ("12'", 3657.6),
        ('6"', 152.4),
        ('6 1/2"', 165.1),
        ("1/2 in", 12.7),
        ("12 ft 6 in", 3810),
        ("12′ 6″", 3810),
        ("12'-6\"", 3810),
        ("-1'", -304.8),
    ],
)
def test_a_length_is_read_in_any_unit(text: object, mm: float) -> None:
    assert parsed(text, LENGTH) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    "text", ["twelve", "12 parsecs", '1/0"', "'", "6 1/2", "١٢ م", "3,81 m", True]
)
def test_what_is_no_length_is_refused(text: object) -> None:
    with pytest.raises(Wrong):
        parsed(text, LENGTH)


@pytest.mark.parametrize(
    ("text", "size"),
    [("14", "14"), (14, "14"), (14.0, "14"), ("#12", "12"), ("10 AWG", "10"), ("1/0", "1/0"),
     ("250 kcmil", "250"), ("2.08 mm²", "14"), ("3.31mm2", "12"), ("53.5 mm²", "1/0"),
     ("127 mm²", "250")],
)  # fmt: skip
def test_a_size_is_read_as_awg_or_as_a_cross_section(text: object, size: str) -> None:
    assert parsed(text, GAUGE) == size


@pytest.mark.parametrize("text", ["2.5 mm²", "13", "1.5", "thick"])
def test_what_is_no_size_is_refused(text: str) -> None:
    with pytest.raises(Wrong):
        parsed(text, GAUGE)


@pytest.mark.parametrize(
    ("size", "mm2"),
    [("14", 2.08), ("12", 3.31), ("10", 5.261), ("8", 8.367), ("6", 13.30), ("4", 21.15),
     ("2", 33.62), ("1/0", 53.49), ("4/0", 107.2), ("250", 127)],
)  # fmt: skip
def test_cross_sections_are_those_of_the_conductor_tables(size: str, mm2: float) -> None:
    """NEC chapter 9, table 8, area in mm² (from memory)."""
    assert area_mm2(size) == pytest.approx(mm2, rel=0.003)


def test_several_values_stand_in_one_cell_and_unknown_ones_as_a_question_mark() -> None:
    assert parsed("1, 3", SLOTS) == [1, 3]
    assert parsed(7, SLOTS) == [7]
    assert parsed("none", SLOTS) == []
    assert parsed("300, ?", FIRST) == [300, None]
    assert written((300.0, None), FIRST) == "300.0, ?"
    assert written((), SLOTS) == "none"
    assert parsed(written((1, 3), SLOTS), SLOTS) == [1, 3]
    for wrong in ("1.5", "1, x", "?"):
        with pytest.raises(Wrong):
            parsed(wrong, SLOTS)
    with pytest.raises(Wrong):
        parsed("inf", Column(("n",), Kind.INTEGER))


def test_yes_and_no_are_read_as_people_write_them() -> None:
    column = Column(("fished",), Kind.YES)
    assert [parsed(text, column) for text in ("Yes", "no", True, "y", "FALSE")] == [
        True, False, True, True, False,
    ]  # fmt: skip
    with pytest.raises(Wrong):
        parsed("maybe", column)
    assert (written(True, column), written(False, column)) == ("yes", "no")

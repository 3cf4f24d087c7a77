"""Local amendments: laid over a rulebook, or refused with every fault at once."""

import pytest

from inspections.checker.amendments import amendment_sets, load_rulebook
from inspections.checker.rulebook import RulebookFault
from tests.checker.build import findings, house


def entry(**changes) -> str:
    """An overlay with one amendment, some of its keys changed or (None) left out."""
    given = {
        "limit": "counter-receptacles.min_width_mm",
        "value": 254,
        "unit": "mm",
        "reason": "by-law 12",
    }
    lines = [
        f"{key} = {_toml(value)}" for key, value in (given | changes).items() if value is not None
    ]
    return "[[amend]]\n" + "\n".join(lines)


def _toml(value: object) -> str:
    return f'"{value}"' if isinstance(value, str) and value != "nan" else str(value).lower()


def refusal(text: str, book: str = "nec-2023") -> list[str]:
    """The lines with which an overlay is refused."""
    with pytest.raises(RulebookFault) as caught:
        load_rulebook(book, text)
    return str(caught.value).splitlines()


def test_an_amendment_sets_the_limit_and_says_so() -> None:
    book = load_rulebook("nec-2023", 'name = "Fernhollow"\n' + entry())
    limit = book["counter-receptacles.min_width_mm"]
    assert (limit.value, limit.amended_from, limit.reason) == (254, 304.8, "by-law 12")
    assert (limit.amended, limit.loosened) == (True, False)
    assert book.amendments == "Fernhollow"
    assert book.amended == (limit,)


def test_the_rulebook_itself_stays_as_it_was() -> None:
    load_rulebook("nec-2023", entry())
    assert load_rulebook("nec-2023")["counter-receptacles.min_width_mm"].value == 304.8
    assert load_rulebook("nec-2023").amended == ()


def test_a_unit_that_turns_into_the_limits_own_will_do() -> None:
    book = load_rulebook("nec-2023", entry(value=10, unit="in"))
    limit = book["counter-receptacles.min_width_mm"]
    assert (limit.value, limit.printed) == (254, "10 in")
    assert book.value("counter-receptacles.min_width_mm") == 254


@pytest.mark.parametrize(
    ("limit", "value", "unit", "loosened"),
    [
        ("counter-receptacles.min_width_mm", 400, "mm", True),
        ("counter-receptacles.min_width_mm", 200, "mm", False),
        ("wide-box-support.braces", 0, "braces", True),
        ("wide-box-support.braces", 2, "braces", False),
        ("box-fill.strap_by_gang", False, "", False),
    ],
)
def test_an_amendment_that_asks_for_less_is_known_as_such(limit, value, unit, loosened) -> None:
    book = load_rulebook("nec-2023", entry(limit=limit, value=value, unit=unit))
    assert book[limit].loosened is loosened


def test_a_table_loosens_when_any_entry_asks_for_less() -> None:
    table = "{ nm = 0, ac = 0, mc = 0, uf = 0, se = 0, raceway = 0, open = 25 }"
    text = entry(limit="communications-separation.distance_mm").replace("254", table)
    assert load_rulebook("nec-2023", text)["communications-separation.distance_mm"].loosened


def test_an_amendment_changes_the_verdict_and_the_fingerprint() -> None:
    counter = {"kind": "wall", "top_mm": 900}
    counter["along"] = [{"wall": "a", "at_mm": 0, "width_mm": 280}]
    made = house(room={"kind": "kitchen", "closed": False, "walls": [3000]}, counters=[counter])
    assert "counter-receptacles:K.1" not in findings(made, "nec-2023")
    finding = findings(made, "nec-2023", entry())["counter-receptacles:K.1"]
    assert finding.verdict == "not_to_code"
    assert any(limit.amended for limit in finding.limits)


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"limit": "counter.width"}, "limit: nec-2023 has no limit 'counter.width'"),
        ({"limit": 7}, "limit: nec-2023 has no limit 7"),
        ({"unit": "kg"}, "unit: must be 'mm' or a unit that converts to it, not 'kg'"),
        ({"unit": 3}, "unit: must be 'mm' or a unit that converts to it, not 3"),
        ({"value": "254"}, "value: must be a number from 0 up, not '254'"),
        ({"value": -1}, "value: must be a number from 0 up, not -1"),
        ({"value": "nan"}, "value: must be a number from 0 up, not nan"),
        ({"value": True}, "value: must be a number from 0 up, not True"),
        ({"value": 0}, "value: must be more than 0"),
        ({"value": None}, "value: is missing"),
        ({"reason": None}, "reason: is missing"),
        ({"reason": "  "}, "reason: must say why, in a sentence"),
        ({"unit": None}, "unit: is missing"),
        ({"limit": None}, "limit: is missing"),
        ({"colour": "red"}, "colour: is not a known key; take it out"),
        ({"limit": "box-fill.strap_by_gang", "unit": ""}, "value: must be true or false, not 254"),
    ],
)  # fmt: skip
def test_each_fault_has_a_line_that_says_what_to_do(changes, line) -> None:
    assert refusal(entry(**changes)) == [f"amend[0].{line}"]


def test_lists_and_tables_keep_to_the_words_there_are() -> None:
    rooms = entry(limit="wall-receptacles.rooms", unit="").replace("254", '["kitchen", "attick"]')
    assert refusal(rooms)[0].startswith("amend[0].value: must be a list of living, family")
    table = entry(limit="communications-separation.distance_mm").replace("254", "{ nm = 50 }")
    assert refusal(table)[0].startswith("amend[0].value: must be a table with a number for each")
    good = entry(limit="wall-receptacles.rooms", unit="").replace("254", '["den"]')
    assert load_rulebook("nec-2023", good).value("wall-receptacles.rooms") == ["den"]


def test_every_fault_comes_at_once() -> None:
    text = "colour = 1\nname = 7\n" + entry(unit="kg", reason="") + "\n" + entry(limit="x")
    assert len(refusal(text)) == 5


def test_one_limit_is_amended_once() -> None:
    assert refusal(entry() + "\n" + entry()) == [
        "amend[1].limit: 'counter-receptacles.min_width_mm' is amended twice; keep one"
    ]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("name = ", "amendments: not TOML: "),
        ('name = "x"', "amend: is missing; give at least one [[amend]] table"),
        ("amend = 3", "amend: is missing; give at least one [[amend]] table"),
        ("amend = [3]", "amend[0]: must be a table with limit, value, unit, reason"),
    ],
)
def test_an_overlay_of_another_shape_is_refused(text, line) -> None:
    assert refusal(text)[0].startswith(line)


@pytest.mark.parametrize("book", ["nec-2017", "nec-2023", "cec-2018", "cec-2021"])
@pytest.mark.parametrize("name", amendment_sets())
def test_the_example_sets_fit_every_rulebook(name, book) -> None:
    amended = load_rulebook(book, amendment_sets()[name]).amended
    assert amended
    assert not any(limit.loosened for limit in amended)

"""Rules that tell their findings in sentences of their own: what they say, and rest on."""

from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.finding import Finding
from tests.checker.build import findings, house


def one(book: str, key: str, **parts) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def notched(plate_mm: float) -> Finding:
    notch = {"member": "stud", "cables": ["C1"], "plate_mm": plate_mm}
    return one("nec-2023", "edge-distance:notch/N1", boxes=[{}], cables=["14/2"], notches=[notch])


def test_a_thin_plate_over_a_notch_is_no_plate_and_its_working_says_which() -> None:
    thin, none = notched(1).words, notched(0).words
    assert said(thin.says) == "No plate of 1/16 in. or thicker over notch N1."
    assert thin.says == none.says
    assert said(thin.working[0]) == "plate thinner than 1/16 in."
    assert said(none.working[0]) == "no plate"
    assert notched(1).fingerprint != notched(0).fingerprint


def test_a_figure_never_denies_its_verdict_in_the_units_of_another_code() -> None:
    hole = {"member": "stud", "cables": ["C1"], "edge_mm": 31.9, "plate_mm": 0}
    found = one("cec-2024", "edge-distance:hole/H1", boxes=[{}], cables=["14/2"], holes=[hole])
    assert said(found.words.says, METRIC).startswith("31.9 mm from hole H1")
    assert said(found.words.figure, ENGLISH) == "1 1/4 in."
    assert said(found.words.limit, ENGLISH) == "1 5/16 in."


def test_what_is_missing_of_an_attic_is_named_and_nothing_else() -> None:
    crossing = {"cable": "C1", "face": "upper", "guarded": False}
    found = one(
        *("nec-2023", "exposed-cables:C1/r"),
        boxes=[{}],
        cables=["14/2"],
        crossings=[crossing],
    )
    assert said(found.words.says) == (
        "Not recorded yet: whether permanent stairs lead to the attic "
        "and how far cable C1 is from the attic hatch."
    )


def test_the_terms_are_those_of_the_code() -> None:
    parts = {"boxes": [{}], "cables": ["14/2"]}
    states = one("nec-2023", "bonding-made-up:room:r", **parts).words
    canada = one("cec-2024", "bonding-made-up:room:r", **parts).words
    assert said(states.says).startswith("Equipment grounding conductors are spliced")
    assert said(canada.says).startswith("Bonding conductors are spliced")


def test_boxes_to_look_into_rest_on_their_cables_and_not_on_the_order_of_them() -> None:
    def print_of(*cables: str) -> str:
        ends = [{"id": name, "awg": "14", "ends": ["P", "b"]} for name in cables]
        found = one("cec-2024", "bonding-made-up:room:r", boxes=[{}], cables=ends)
        return found.fingerprint

    assert print_of("C1", "C2") == print_of("C2", "C1")
    assert print_of("C1", "C2") != print_of("C1", "C3")


def test_a_light_that_insulation_is_too_near_to_says_why_that_matters() -> None:
    light = {"kind": "luminaire", "recessed": {"insulation_contact": False, "insulated": True,
             "insulation_mm": 40}}  # fmt: skip
    words = one("cec-2024", "recessed-insulation:b", boxes=[{"devices": [light]}]).words
    assert said(words.says, METRIC) == "Light b is 40 mm from insulation; 76 mm minimum."
    assert [said(line, METRIC) for line in words.working[:2]] == [
        *("not marked Type IC", "insulation in its cavity"),
    ]

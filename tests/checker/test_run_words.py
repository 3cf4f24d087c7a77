"""Cables, the framing they run through, and their boxes in words: what the working comes from."""

from typing import Any

from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.finding import Finding, Verdict
from tests.checker.build import findings, house


def one(book: str, key: str, **parts: Any) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def says(finding: Finding) -> str:
    """What it says, in the units of its code."""
    return said(finding.words.says, ENGLISH if finding.code == "NEC" else METRIC)


def working(finding: Finding) -> list[str]:
    """Its working, line by line."""
    return [said(line, METRIC) for line in finding.words.working]


def holed(**hole: Any) -> Finding:
    """A hole in a stud of 89 mm."""
    given = {"cables": ["C1"], "member": "stud", "member_mm": 89, "edge_mm": 20} | hole
    return one("cec-2021", "bored-framing:H1", boxes=[{}], cables=["14/2"], holes=[given])


def test_a_share_is_shown_as_what_it_comes_from() -> None:
    bearing = holed(diameter_mm=30, bearing=True)
    assert says(bearing) == "Hole H1 takes 33.8% of the stud; 33.3% maximum in a bearing wall."
    assert working(bearing) == ["30 mm of 89 mm: 33.8%; 33.3% maximum"]
    light = holed(diameter_mm=50, bearing=False)
    assert says(light) == "Hole H1 leaves 39 mm of the stud; 40 mm minimum."
    assert working(light) == ["89 mm − 50 mm = 39 mm; 40 mm minimum"]


def test_a_share_that_is_all_but_too_much_never_reads_as_its_limit() -> None:
    beyond = holed(diameter_mm=29.68, bearing=True)
    assert says(beyond) == "Hole H1 takes 33.4% of the stud; 33.3% maximum in a bearing wall."


def test_what_two_faults_are_fixed_by_is_said_once() -> None:
    notch = {"cables": ["C1"], "member": "joist", "member_mm": 235, "depth_mm": 60}
    notch |= {"middle_third": True}
    finding = one("nec-2023", "notched-framing:N1", boxes=[{}], cables=["14/2"], notches=[notch])
    assert says(finding) == (
        "Notch N1 takes 25.6% of the joist's depth; 16.6% maximum. "
        "Notch N1 is in the middle third of the joist's span."
    )
    assert said(finding.words.remedy) == (
        "Have the framer reinforce it. Bore holes instead of notching."
    )


def supported(**cable: Any) -> Finding:
    """A cable from the panel to box b, held at both ends."""
    given = {"awg": "14", "ends": ["P", "b"], "first_supports_mm": [250, 340]}
    given |= {"interval_mm": 1400} | cable
    return one("cec-2021", "cable-support:C1", boxes=[{}, {"id": "c"}], cables=[given])


def test_a_first_support_says_from_which_end_it_is_and_an_end_is_a_fact() -> None:
    finding = supported()
    assert says(finding) == "Cable C1: 340 mm from b to its first support; 300 mm maximum."
    assert said(finding.words.remedy) == "Add a staple or strap."
    assert finding.fingerprint != supported(ends=["P", "c"]).fingerprint
    assert finding.fingerprint == supported(length_mm=9000).fingerprint


def test_a_bend_is_told_by_radius_and_diameter() -> None:
    given = {"awg": "14", "ends": ["P", "b"], "bend_mm": 59}
    made = {"boxes": [{}], "cables": [given | {"width_mm": 12}]}
    finding = one("cec-2021", "cable-bends:C1", **made)
    assert says(finding) == "Cable C1 is bent too tightly: 4.9 diameters, minimum 5."
    assert working(finding) == ["radius 59 mm ÷ diameter 12 mm = 4.9"]
    finding = one("cec-2021", "cable-bends:C1", boxes=[{}], cables=[given])
    assert says(finding) == "Not recorded yet: how wide cable C1 is."


def test_a_box_off_its_height_is_set_at_the_stated_height_or_level_with_the_others() -> None:
    places = ["a@500^300", "a@900^300", "a@1300^400"]
    boxes = []
    for number, place in enumerate(places):
        boxes.append({"id": f"b{number}", "place": place, "devices": ["receptacle"]})
    room = {"kind": "bedroom", "closed": False, "walls": [3000]}
    key = "box-heights:b2"
    finding = one("cec-2021", key, room=room, boxes=boxes)
    assert says(finding) == "Box b2 is 100 mm off the usual height; 12 mm maximum."
    assert working(finding)[0] == "400 mm up; 300 mm is the most common height of b0, b1 and b2"
    assert said(finding.words.remedy) == "Set it level with the others."
    stated = one("cec-2021", key, room=room, boxes=boxes, height_mm={"receptacle": 310})
    assert working(stated)[0] == "400 mm up; the height set for this house is 310 mm"
    assert said(stated.words.remedy, METRIC) == "Set it at 310 mm."


def hung(**device: Any) -> dict[str, Verdict]:
    """By key, what is found on a ceiling box that is marked for 20 kg."""
    box = {"place": "ceiling", "holds_kg": 20, "fan_marked": True, "devices": [device]}
    return {
        key: finding.verdict
        for key, finding in findings(house(boxes=[box]), "cec-2021").items()
        if key.startswith("box-loads:")
    }


def test_a_light_is_weighed_on_site_and_a_fan_on_paper() -> None:
    assert hung(kind="luminaire") == {"box-loads:room:r": Verdict.VERIFY}
    assert hung(kind="ceiling_fan") == {"box-loads:b": Verdict.INFO_NEEDED}
    assert hung(kind="ceiling_fan", weight_kg=12) == {"box-loads:b": Verdict.OK}
    # Framing may carry what is too heavy for the box, and eyes see whether it does.
    assert hung(kind="ceiling_fan", weight_kg=25) == {"box-loads:room:r": Verdict.VERIFY}


def test_a_wide_box_without_a_brace_is_told_without_a_figure() -> None:
    boxes = [{"gangs": 3, "braces": 0}]
    assert says(one("cec-2021", "wide-box-support:b", boxes=boxes)) == "3-gang box b has no brace."
    boxes = [{"gangs": 3, "braces": 2}]
    plenty = one("cec-2021", "wide-box-support:b", boxes=boxes)
    assert says(plenty) == "3-gang box b has 2 braces; 1 required."

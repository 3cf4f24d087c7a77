"""Findings: identity, fingerprints, and what their limits say about them."""

from dataclasses import replace

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.facts import digest
from inspections.checker.finding import Finding, FindingWords, Verdict, rule, rules
from inspections.checker.spot import Spot
from tests.checker.build import findings, house

LIMIT = load_rulebook("nec-2023")["box-fill.strap"]


def one(**changes) -> Finding:
    """A finding with some of its parts changed."""
    spot = Spot("area", "r", ("Main floor", "Room"))
    made = Finding(rules()["box-fill"], "b", Verdict.MEETS, spot, {"fill_ml": 1.0}, (LIMIT,))
    return replace(made, **changes)


def test_its_key_is_its_rule_and_subject() -> None:
    assert one().key == "box-fill:b"


def test_its_fingerprint_changes_with_its_facts_and_limits() -> None:
    same = one(spot=Spot("area", "r", ("Main floor", "Room", "elsewhere")))
    assert same.fingerprint == one().fingerprint
    assert one(facts={"fill_ml": 1.1}).fingerprint != one().fingerprint
    assert one(limits=(replace(LIMIT, value=3),)).fingerprint != one().fingerprint
    assert one(subject="c").fingerprint != one().fingerprint


def test_it_is_known_as_well_as_its_least_certain_limit() -> None:
    read, practice, memory = (replace(LIMIT, known=k) for k in ("read", "practice", "memory"))
    assert one(limits=(read,)).known == "read"
    assert one(limits=(read, practice)).known == "practice"
    assert one(limits=(read, practice, memory)).known == "memory"


def test_it_names_each_section_and_edition_once() -> None:
    both = one(limits=(LIMIT, LIMIT, replace(LIMIT, section="314.16(A)")))
    assert both.section == "314.16(B)(4), 314.16(A)"
    assert both.edition == "NEC 2023"


def test_a_digest_does_not_depend_on_the_order_of_keys() -> None:
    assert digest({"a": 1, "b": [2.5]}) == digest({"b": [2.5], "a": 1})
    assert len(digest({})) == 16


def test_two_rules_cannot_share_an_id() -> None:
    with pytest.raises(ValueError, match="two rules are called box-fill"):
        rule("box-fill", topic="boxes", title="Twice", tell=lambda _: FindingWords(""), facts=int)(
            lambda *_: ()
        )


def moved(**box) -> str:
    """The fingerprint of a wall space with one receptacle."""
    given = {"place": "a@1000^300", "devices": ["receptacle"], **box}
    made = house(room={"closed": False, "walls": [2000]}, boxes=[given])
    return findings(made, "nec-2023")["wall-receptacles:r/a.1"].fingerprint


def test_a_receptacle_that_moves_changes_the_fingerprint_of_its_wall() -> None:
    assert moved() == moved(name="renamed")
    assert len({moved(), moved(place="a@1001^300"), moved(place="a@1000^301")}) == 3


@pytest.mark.parametrize("change", [{"volume_ml": 401}, {"clamps": "internal"}, {"studs": 1}])
def test_a_box_that_changes_changes_the_fingerprint_of_its_fill(change) -> None:
    box = {"volume_ml": 400}
    before, after = (
        findings(house(boxes=[each], cables=["14/2"]), "nec-2023") for each in (box, box | change)
    )
    assert before["box-fill:b"].fingerprint != after["box-fill:b"].fingerprint

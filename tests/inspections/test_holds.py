"""Holds and standings as pure functions."""

from dataclasses import replace
from datetime import date

import pytest

from config.languages import say
from inspections.checker.finding import Verdict
from inspections.standing.holds import (
    AcceptanceFacts,
    AreaFacts,
    PermitFacts,
    Seen,
    Standing,
    WithdrawalFacts,
    holds,
    item_standing,
)
from inspections.standing.steps import Who

CLEAN = AreaFacts(
    today=date(2026, 3, 16),
    permit=PermitFacts(issued_on=date(2026, 1, 12)),
    has_house=True,
    items=[(Standing.OK, 40)],
    acceptance=AcceptanceFacts(accepted=True, said_on=date(2026, 3, 2), unchanged=True),
)


@pytest.mark.parametrize(
    ("verdict", "seen", "standing"),
    [
        ("ok", None, "ok"),
        ("ok", Seen.FIX, "fix"),
        ("ok", Seen.OK, "ok"),
        ("ok", Seen.CANT_SEE, "open"),
        ("ok", Seen.NA, "ok"),
        ("verify", None, "open"),
        ("verify", Seen.OK, "ok"),
        ("verify", Seen.FIX, "fix"),
        ("verify", Seen.CANT_SEE, "open"),
        ("verify", Seen.NA, "ok"),
        ("not_to_code", Seen.NA, "fix"),
        ("info_needed", Seen.NA, "info_needed"),
        ("not_to_code", None, "fix"),
        ("not_to_code", Seen.OK, "fix"),
        ("not_to_code", Seen.CANT_SEE, "fix"),
        ("info_needed", None, "info_needed"),
        ("info_needed", Seen.OK, "info_needed"),
        ("info_needed", Seen.FIX, "info_needed"),
    ],
)
def test_where_an_item_stands(verdict: str, seen: Seen | None, standing: str) -> None:
    assert item_standing(verdict, seen, workmanship=False) == standing


@pytest.mark.parametrize("verdict", list(Verdict))
@pytest.mark.parametrize("seen", [None, *Seen])
def test_workmanship_stands_as_design_does_but_while_nobody_looked(
    verdict: str, seen: Seen | None
) -> None:
    by_hand = item_standing(verdict, seen, workmanship=True)
    if verdict == Verdict.OK and seen is None:
        assert by_hand is Standing.OPEN
    else:
        assert by_hand is item_standing(verdict, seen, workmanship=False)


def test_every_verdict_but_ok_is_not_passed_before_anybody_looked() -> None:
    standings = {verdict: item_standing(verdict, None, workmanship=False) for verdict in Verdict}
    assert [v for v, standing in standings.items() if standing is Standing.OK] == ["ok"]


def test_a_drawing_passes_nothing_that_hands_make() -> None:
    standings = {item_standing(verdict, None, workmanship=True) for verdict in Verdict}
    assert Standing.OK not in standings


def test_a_clean_area_has_no_hold() -> None:
    assert holds(CLEAN) == ()


@pytest.mark.parametrize(
    ("change", "reason", "words"),
    [
        ({"permit": None}, "permit", "No permit"),
        ({"permit": PermitFacts()}, "permit", "not issued"),
        (
            {"permit": PermitFacts(date(2026, 1, 1), date(2026, 3, 15))},
            "permit",
            "expired on Mar 15, 2026",
        ),
        ({"permit": PermitFacts(date(2026, 3, 17))}, "permit", "not valid before Mar 17, 2026"),
        (
            {"permit": PermitFacts(date(2025, 1, 1), date(2026, 3, 15), date(2026, 3, 17))},
            "permit",
            "expired on Mar 15, 2026",
        ),
        ({"has_house": False}, "house", "The rough-in is not recorded yet"),
        ({"items": []}, "house", "No rough-in is recorded in this area"),
        ({"items": [(Standing.OPEN, 1)]}, "open", "1 rough-in item to verify"),
        ({"to_confirm": 12}, "open", "12 items OK on plan, to confirm on site."),
        ({"items": [], "to_confirm": 1}, "open", "1 item OK on plan, to confirm on site."),
        ({"items": [(Standing.FIX, 2)]}, "fix", "2 rough-in items to fix"),
        ({"items": [(Standing.INFO_NEEDED, 1)]}, "info_needed", "1 measurement missing"),
        ({"deficiencies_called": 1}, "deficiency", "1 deficiency to correct"),
        ({"deficiencies_corrected": 2}, "deficiency", "2 corrected deficiencies wait"),
        ({"trades_missing": ("plumbing",)}, "trade", "Rough-in by plumbing is not reported"),
        ({"acceptance": None}, "acceptance", "has not accepted this area"),
        (
            {"acceptance": AcceptanceFacts(False, date(2026, 3, 2), True)},
            "acceptance",
            "did not accept this area on Mar 2, 2026",
        ),
        (
            {"acceptance": AcceptanceFacts(True, date(2026, 3, 2), False)},
            "changed",
            "This area changed after it was accepted",
        ),
        (
            {"withdrawals": [WithdrawalFacts(date(2026, 3, 2), "a stud was drilled")]},
            "withdrawn",
            "withdrawn on Mar 2, 2026: “a stud was drilled”. What was done",
        ),
        (
            {"withdrawals": [WithdrawalFacts(date(2026, 3, 2), "x", True, inspect_again=True)]},
            "changed",
            "withdrawn on Mar 2, 2026. The change must be inspected again",
        ),
        (
            {"permit": PermitFacts(date(2025, 1, 1), quiet_since=date(2025, 9, 16), idle_days=180)},
            "permit",
            "expired on Mar 15, 2026",
        ),
    ],
)
def test_each_missing_thing_is_one_hold_that_says_who_lifts_it(change, reason, words) -> None:
    (hold,) = holds(replace(CLEAN, **change))
    assert hold.reason == reason
    assert words in say(hold.says, "en")
    assert hold.lifted_by
    assert all(say(lift.how, "en") for lift in hold.lifted_by)


def test_an_answered_withdrawal_holds_nothing_and_never_hides_another_hold() -> None:
    answered = WithdrawalFacts(date(2026, 3, 2), "x", answered=True)
    assert holds(replace(CLEAN, withdrawals=[answered])) == ()
    again = replace(answered, inspect_again=True)
    changed = AcceptanceFacts(True, date(2026, 3, 2), False)
    (hold,) = holds(replace(CLEAN, withdrawals=[again], acceptance=changed))
    assert "changed after it was accepted" in say(hold.says, "en")
    waiting = replace(answered, answered=False)
    found = holds(replace(CLEAN, withdrawals=[waiting, again, waiting]))
    assert [each.reason for each in found] == ["withdrawn", "withdrawn", "changed"]


def test_a_permit_holds_to_the_end_of_its_last_day() -> None:
    last_day = PermitFacts(date(2026, 1, 1), CLEAN.today)
    assert holds(replace(CLEAN, permit=last_day)) == ()


def test_a_permit_is_good_from_its_day_of_issue() -> None:
    assert holds(replace(CLEAN, permit=PermitFacts(CLEAN.today))) == ()


def test_a_permit_turns_when_it_is_issued_when_it_is_closed_and_the_day_after_its_last() -> None:
    issued, last, closed = date(2026, 1, 12), date(2026, 2, 28), date(2026, 3, 5)
    assert PermitFacts().turns == []
    assert PermitFacts(issued).turns == [issued]
    assert PermitFacts(issued, last).turns == [issued, date(2026, 3, 1)]
    assert PermitFacts(issued, last, closed).turns == [issued, closed, date(2026, 3, 1)]
    idle = PermitFacts(issued, last, quiet_since=issued, idle_days=20)
    assert idle.last_day == date(2026, 2, 1)
    assert idle.turns == [issued, date(2026, 2, 2)]


def test_an_inspection_keeps_an_idle_permit_good_and_a_closed_one_holds_nothing() -> None:
    inspected = PermitFacts(date(2025, 1, 1), quiet_since=date(2025, 9, 17), idle_days=180)
    closed = PermitFacts(date(2025, 1, 1), date(2026, 1, 1), closed_on=date(2025, 12, 1))
    for permit in (inspected, closed):
        assert holds(replace(CLEAN, permit=permit)) == ()


@pytest.mark.parametrize(
    ("count", "says"),
    [
        (1, "1 box in an outside wall has no vapour boot."),
        (3, "3 boxes in outside walls have no vapour boot."),
    ],
)
def test_boxes_without_boots_hold_and_either_trade_can_lift_it(count: int, says: str) -> None:
    (hold,) = holds(replace(CLEAN, boots_missing=count))
    assert hold.reason == "boots"
    assert say(hold.says, "en") == f"{says} The insulation chosen is not a vapour barrier."
    assert [lift.who for lift in hold.lifted_by] == [Who.CREW, Who.BUILDER]


def test_an_area_of_bare_boxes_alone_is_not_an_empty_one() -> None:
    (hold,) = holds(replace(CLEAN, items=[], boots_missing=1))
    assert hold.reason == "boots"

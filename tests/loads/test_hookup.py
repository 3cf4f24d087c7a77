"""The construction hookup: ready only when each item is; live and locked-off lists; heat."""

from datetime import date
from typing import Any

import pytest

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import Verdict
from inspections.loads.authorised import Authorised
from inspections.loads.heat import heat_kw, heater_amps, hours_to_warm
from inspections.loads.hookup import HookupSheet, Outside, hookup_sheet
from inspections.loads.hookup_messages import ASKED
from inspections.loads.temporary import temporary_checks
from tests.loads.houses import made
from tests.loads.test_panel import panel_data

CEC = load_rulebook("cec-2021")
READY: dict[str, Any] = {name: True for name, _ in ASKED} | {
    "wants": [
        {"name": "Bar lights", "circuit": "2", "rank": 1},
        {"name": "Heater east", "volt_amperes": 4800, "volts": 240, "continuous": True, "rank": 2},
        {"name": "Huge heater", "volt_amperes": 30000, "volts": 240, "continuous": True},
        {"name": "Radio", "rank": 9},
    ]
}
DONE = Outside(True, "E-1", True, "R-7", "H-3")


def sheet(outside: Outside = DONE, **hookup: Any) -> HookupSheet:
    data = panel_data()
    data["service"]["hookup"] = READY | hookup
    return hookup_sheet(made(data), CEC, outside)


def test_it_is_ready_when_every_item_is() -> None:
    found = sheet()
    assert [check for check in found.readiness if check.verdict is not Verdict.MEETS] == []
    assert found.verdict is Verdict.MEETS
    assert found.reference == "H-3"


@pytest.mark.parametrize("name", [name for name, _ in ASKED])
def test_each_item_that_is_not_done_or_not_looked_at_holds_it(name: str) -> None:
    assert sheet(DONE, **{name: False}).verdict is Verdict.SHORT
    assert sheet(DONE, **{name: None}).verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("outside", "verdict"),
    [
        (Outside(False, "", True, "R-7"), Verdict.SHORT),
        (Outside(True, "E-1", False), Verdict.SHORT),
        (Outside(None, "", True, "R-7"), Verdict.UNKNOWN),
        (Outside(), Verdict.UNKNOWN),
    ],
)
def test_permit_and_rough_in_hold_it_too(outside: Outside, verdict: Verdict) -> None:
    assert sheet(outside).verdict is verdict


def test_a_service_or_panel_that_is_short_holds_it() -> None:
    data = panel_data()
    data["service"] |= {"hookup": READY, "rating_a": 50}
    found = hookup_sheet(made(data), CEC, DONE)
    short = {said(check.what) for check in found.readiness if check.verdict is Verdict.SHORT}
    assert short == {"Service carries its load"}
    data["service"]["rating_a"] = 100
    data["circuits"][2]["slots"] = [3, 8]
    found = hookup_sheet(made(data), CEC, DONE)
    assert {said(c.what) for c in found.readiness if c.verdict is Verdict.SHORT} == {"Panel P1"}


def test_nothing_wanted_is_unknown_and_every_breaker_stays_locked_off() -> None:
    found = sheet(wants=[])
    assert found.chosen is None
    assert found.verdict is Verdict.UNKNOWN
    assert [line.circuit for line in found.locked_off] == ["1", "2", "r", "h"]


def test_live_and_locked_off_part_the_panel_and_the_rest_says_why() -> None:
    found = sheet()
    assert [(line.name, said(line.legs)) for line in found.live] == [
        ("Bar lights", "A"),
        ("Heater east", "A and B"),
    ]
    assert [line.circuit for line in found.locked_off] == ["1", "r", "h"]
    assert said(found.live[1].spaces) == "temporary"
    assert found.chosen is not None
    told = {want.name: said(why) for want, why in found.chosen.left_out}
    assert "more than the service's 100 A" in told["Huge heater"]
    assert told["Radio"] == "Its load is not recorded yet."


def test_the_authority_s_number_of_circuits_comes_first() -> None:
    found = sheet(max_circuits=1)
    assert [line.name for line in found.live] == ["Bar lights"]
    assert sheet(max_circuits=0).live == ()


def test_wants_of_one_name_are_told_apart() -> None:
    heater = {"name": "Heater", "volt_amperes": 2000, "volts": 240}
    assert [line.name for line in sheet(wants=[heater, heater]).live] == [
        "Heater (1)",
        "Heater (2)",
    ]


def test_heat_is_told_in_amperes_for_pole_and_hookup() -> None:
    told = "\n".join(map(said, sheet().heat))
    assert "Heater east: 4.8 kW at 240 V is 20 A on each leg." in told
    assert "A 30 A pole carries 5.76 kW" in told
    assert "A 40 A pole carries 7.68 kW" in told
    assert "This 100 A service carries 19.2 kW" in told


def _estimates(**hookup: Any) -> list[str]:
    return [line for line in map(said, sheet(**hookup).heat) if "ESTIMATE" in line]


def test_hours_to_warm_are_told_as_an_estimate_by_the_heaters_that_are_live() -> None:
    warming = {"volume_m3": 500, "from_c": 0, "to_c": 20}
    (line,) = _estimates(warming=warming)
    assert line.startswith("ESTIMATE, 500 m³ from 0 to 20 °C with 4.8 kW: ")
    assert "= 0.7 h. An estimate for air alone" in line
    (cold,) = _estimates(warming=warming | {"loss_w_per_k": 300})
    assert "does not make up for the 6 kW lost" in cold
    assert _estimates() == []


def test_amperes_and_kilowatts_of_heat() -> None:
    assert heater_amps(4.8) == 20
    assert heater_amps(1.5, 120) == 12.5
    assert heat_kw(30, 80) == pytest.approx(5.76)
    with pytest.raises(ValueError, match="not negative"):
        heater_amps(-1)


def test_hours_to_warm_are_labelled_an_estimate() -> None:
    # 500 m³ of air by 20 K: 500 × 1210 × 20 J = 3.36 kWh, at 4.8 kW 0.70 h
    found = hours_to_warm(500, 4.8, 0, 20)
    assert found.hours == pytest.approx(0.70, abs=0.005)
    assert "estimate" in said(found.caution)
    assert hours_to_warm(500, 4.8, 20, 10).hours == 0
    slower = hours_to_warm(500, 4.8, 0, 20, loss_w_per_k=100)
    assert slower.hours is not None
    assert slower.hours > (found.hours or 0)
    never = hours_to_warm(500, 1.0, 0, 20, loss_w_per_k=100)
    assert never.hours is None
    assert "1 kW does not make up for the 2 kW lost" in said(never.working)


def pole(**facts: Any) -> dict[str, Any]:
    data = panel_data()
    data["service"]["temporary"] = {"rating_a": 30, **facts}
    return data


def test_a_temporary_service_tells_its_end_and_a_house_without_one_is_silent() -> None:
    house = made(pole())
    by_day = temporary_checks(house, CEC, date(2026, 3, 1))[-1]
    told = "Remove it by Mar 1, 2026. Until then it holds the final."
    assert (by_day.verdict, said(by_day.says)) == (Verdict.LOOK, told)
    assert temporary_checks(house, CEC)[-1].verdict is Verdict.LOOK
    gone = temporary_checks(house, CEC, date(2026, 3, 1), date(2026, 2, 20))[-1]
    assert (gone.verdict, said(gone.says)) == (Verdict.MEETS, "Removed on Feb 20, 2026.")
    assert temporary_checks(made(panel_data()), CEC) == []


def test_the_load_on_a_pole_is_laid_on_the_emptier_leg() -> None:
    saw = {"name": "Saw", "volt_amperes": 1800, "volts": 120}
    light = {"name": "Lights", "volt_amperes": 600, "volts": 120}
    (load, *_) = temporary_checks(made(pole(on_it=[saw, light, saw])), CEC)
    assert said(load.says).endswith(": 20 A and 15 A of 30 A.")
    unknown = temporary_checks(made(pole(on_it=[{"name": "Saw"}])), CEC)[0]
    assert unknown.verdict is Verdict.UNKNOWN
    assert said(unknown.says) == "Load of Saw not recorded yet."


def test_a_heater_of_nothing_draws_nothing_and_a_good_panel_says_so() -> None:
    assert heater_amps(0) == 0
    told = {said(check.what): said(check.says) for check in sheet().readiness}
    assert told["Panel P1"] == "As required."


def named(*circuits: str, **given: Any) -> Outside:
    """Those circuits authorised, everything else in hand."""
    authorised = tuple(Authorised(each, f"{each} as named", **given) for each in circuits)
    return Outside(True, "E-1", True, "R-7", "H-3", authorised=authorised)


def test_what_is_authorised_is_live_and_all_else_locked_off_whatever_is_proposed() -> None:
    found = sheet(named("1", "h"))
    assert [line.circuit for line in found.live] == ["1", "h"]
    assert [said(line.legs) for line in found.live] == ["A", "A and B"]
    assert [line.circuit for line in found.locked_off] == ["2", "r"]
    assert (found.chosen, found.proposed, found.warnings) == (None, False, ())
    assert found.verdict is Verdict.MEETS
    assert not any("Bar lights" in line.name for line in found.live)


def test_a_hookup_that_names_no_circuit_leaves_every_breaker_locked_off() -> None:
    found = sheet(named())
    assert found.live == ()
    assert [line.circuit for line in found.locked_off] == ["1", "2", "r", "h"]


def test_a_circuit_that_is_gone_stays_authorised_and_is_warned_of() -> None:
    found = sheet(named("1", "gone"))
    assert [line.name for line in found.live] == [found.live[0].name, "gone as named"]
    assert "house as recorded now has no such circuit" in said(found.warnings[0])
    assert found.verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"now": "1 Lights"}, "now names that circuit “1 Lights”"),
        ({"against": ("Staples",)}, "an item about it is to be fixed: Staples."),
    ],
)
def test_what_speaks_against_a_circuit_is_warned_of_and_changes_nothing(given, words) -> None:
    found = sheet(named("1", **given))
    assert [line.circuit for line in found.live] == ["1"]
    (told,) = found.warnings
    assert words in said(told)


def test_what_was_typed_is_told_as_typed_and_every_breaker_stays_off() -> None:
    outside = Outside(True, "E-1", True, "R-7", "H-3", authorised=(Authorised("", "kitchen"),))
    found = sheet(outside)
    assert [(line.circuit, line.name) for line in found.live] == [("", "kitchen")]
    assert [line.circuit for line in found.locked_off] == ["1", "2", "r", "h"]
    assert "“kitchen” was typed" in said(found.warnings[0])


def test_loads_and_numbers_beyond_what_is_on_record_are_warned_of() -> None:
    wants = [{"name": "Heat", "circuit": "h", "volt_amperes": 30000, "volts": 240}]
    told = " ".join(map(said, sheet(named("1", "h"), wants=wants, max_circuits=1).warnings))
    assert "2 circuits are authorized; 1 maximum on record." in told
    assert "“h as named” is authorized, but: 125 A is more than its 20 A breaker carries." in told
    assert "The authorized circuits load leg A with 137 A; the service is 100 A." in told


def test_a_permit_that_is_none_any_more_is_no_permit_issued() -> None:
    found = sheet(Outside(True, "E-1", True, "R-7", permit_says="expired on 2026-11-27"))
    line = found.readiness[0]
    assert (line.verdict, said(line.says)) == (
        Verdict.SHORT,
        "expired on 2026-11-27, reference E-1",
    )

"""Cases of circuits, panels and construction power: what each kind computes."""

from typing import Any

from config.messages.message import Amperes, Listed, Text
from config.messages.saying import said
from inspections.checker.house.service import FloorArea
from inspections.checker.rulebook import Rulebook
from inspections.loads import facts_of
from inspections.loads.branch import branches, breaker_fits, derated_ampacity
from inspections.loads.check_messages import FLOOR_AREA
from inspections.loads.conductors import ampacity
from inspections.loads.drop import THOUSAND_FEET, longest_mm, ohm_per_km, voltage_drop
from inspections.loads.facts import area_doubts
from inspections.loads.hookup import hookup_sheet
from inspections.loads.panel import panels
from inspections.loads.temporary import generator_exempt, hand_lamp_meets, temporary_checks
from tests.loads.houses import house_data, made
from tests.sure import of_kind

Case = dict[str, Any]
FOOT = 304.8


def drop(case: Case, book: Rulebook) -> dict[str, Any]:
    """A run by resistance, by circular mils and K, or by the table."""
    given = case["given"]
    length = given["feet"] * FOOT if "feet" in given else given["metres"] * 1000
    if "k" in given:
        ohms = ohm_per_km(1000 * given["k"] / given["circular_mils"])
    elif "awg" in given:
        ohms = book.value("conductors.ohm_per_km_copper")[given["awg"]]
    else:
        ohms = ohm_per_km(given["ohms_per_1000_ft"])
    phases, limit = given.get("phases", 1), book.value("voltage-drop.branch_pct")
    found = voltage_drop(given["volts"], given["amps"], length, ohms, phases)
    far = longest_mm(given["volts"], given["amps"], ohms, limit, phases)
    return {
        "drop_v": found.volts,
        "drop_pct": found.percent,
        "within": found.percent <= limit + 1e-9,
        "loop_ohms": 2 * ohms * length / 1e6,
        "longest_ft": far / 1e6 / THOUSAND_FEET * 1000,
        "required": book.value("voltage-drop.required"),
        "total_pct": book.value("voltage-drop.total_pct"),
    }


def derate(case: Case, book: Rulebook) -> dict[str, Any]:
    """Conductors together and in heat."""
    return {
        f"{awg}x{count}@{celsius}": derated_ampacity(awg, count, celsius, book)[0]
        for awg, count, celsius in case["given"]["of"]
    }


def breakers(case: Case, book: Rulebook) -> dict[str, Any]:
    """Whether each breaker protects its conductor at 75 °C."""
    return {
        f"{awg} {material} {breaker}": breaker_fits(
            awg, material, ampacity(awg, material, 75, book) or 0.0, breaker, book
        )
        for awg, material, breaker in case["given"]["pairs"]
    }


def demand(case: Case, book: Rulebook) -> dict[str, Any]:
    """The current that circuits are held against."""
    given, data = case["given"], house_data()
    data["appliances"][1]["volt_amperes"] = given["heater_va"]
    found = {"heater_a": by_id(data, book)["h"].demand_a}
    for watts in given.get("ranges_va", ()):
        data["appliances"][0]["volt_amperes"] = watts
        found[f"range_{watts:g}_a"] = by_id(data, book)["r"].demand_a
    for count in given["outlets"]:
        box = data["boxes"][0]
        box["devices"] = [{"kind": "receptacle", "circuit": "1"}] * count
        found[f"outlets_{count}"] = by_id(data, book)["1"].demand_a
    return found


def by_id(data: dict[str, Any], book: Rulebook) -> dict[str, Any]:
    """The circuits of a house by id."""
    return {branch.circuit.id: branch for branch in branches(made(data), book)}


def positions(case: Case, book: Rulebook) -> dict[str, Any]:
    """The fewest spaces of a panel by its rating, and those to spare."""
    found: dict[str, Any] = {"spare": None}
    for name, control in (("positions", "room"), ("central", "central")):
        for rating in case["given"]["ratings"]:
            data = house_data(heat_control=control)
            data["panels"][0] |= {"rating_a": rating, "spaces": case["given"]["spaces"]}
            (schedule,) = panels(made(data), book)
            for check in schedule.checks:
                if said(check.what) == "Positions":
                    found[f"{name}_{rating}"] = of_kind(Text, check.says).given["least"]
                if said(check.what) == "Spare positions":
                    found["spare"] = of_kind(Text, check.says).given["least"]
    return found


def floor_area(case: Case, book: Rulebook) -> dict[str, Any]:
    """How many doubts an area brings, by itself and against rooms of 12 m²."""
    found = {}
    for text in case["given"]["areas"]:
        value, unit = text.split()
        found[text] = len(
            list(area_doubts(FLOOR_AREA(), FloorArea(value=float(value), unit=unit), book))
        )
    for value in case["given"]["drawn_12_m2"]:
        house = made(house_data(floor_area={"value": value, "unit": "m2"}))
        found[f"drawn {value}"] = len(facts_of(house, book).doubts)
    return found


def temporary(case: Case, book: Rulebook) -> dict[str, Any]:
    """Receptacles, wiring, generators, lamps and load of a temporary service."""
    given = case["given"]
    found: dict[str, Any] = {}
    rest = {
        name: given[name]
        for name in ("conductors_off_floor", "lamps_guarded", "disconnects", "feeds_house")
        if name in given
    }
    pole = {
        "rating_a": given.get("pole_a", 30.0),
        "receptacles": given.get("receptacles", []),
        **rest,
    }
    checks = _verdicts(pole, book)
    for each in given.get("receptacles", []):
        found[each["name"]] = checks.get(f"Ground fault, {each['name']}", "silent")
    for name, what in WIRING.items():
        found[name] = checks.get(what, "silent")
    for number, support in enumerate(given.get("support_mm", []), 1):
        found[f"support_{number}"] = _verdicts({**pole, "support_mm": support}, book)["Support"]
    for number, watts in enumerate(given.get("heat_va", []), 1):
        heater = {"name": "H", "volt_amperes": watts, "volts": 240.0, "continuous": True}
        found[f"heat_{number}"] = _verdicts({**pole, "on_it": [heater]}, book)["Load on it"]
    for number, each in enumerate(given.get("generators", []), 1):
        kw, two_wire, isolated = each
        found[f"generator_{number}"] = generator_exempt(kw, two_wire, isolated, book)
    for number, each in enumerate(given.get("lamps", []), 1):
        volts, gfci = each
        found[f"lamp_{number}"] = hand_lamp_meets(volts, gfci, book)
    found["rating_missing"] = _verdicts({}, book)["Rating"]
    says = of_kind(Text, temporary_checks(made(house_data(temporary={})), book)[0].says)
    ratings = [of_kind(Amperes, each) for each in of_kind(Listed, says.given["ratings"]).of]
    return found | {"usual": " or ".join(f"{each.a:g}" for each in ratings) + " A"}


WIRING = {
    "off_floor": "Conductors off the floor",
    "lamps_guarded": "Lamps guarded",
    "disconnects": "Circuits can be disconnected",
    "feeds_house": "Apart from the house's panel",
}


def _verdicts(pole: dict[str, Any], book: Rulebook) -> dict[str, str]:
    house = made(house_data(temporary=pole))
    return {said(check.what): check.verdict.value for check in temporary_checks(house, book)}


def hookup(case: Case, book: Rulebook) -> dict[str, Any]:
    """How many of many small wants are live."""
    given = case["given"]
    wants = [{"name": f"w{i}", "volt_amperes": 10.0} for i in range(given["wants"])]

    def live(**more: Any) -> int:
        data = house_data(hookup={"wants": wants, **more})
        data["panels"][0]["spaces"] = 40
        chosen = hookup_sheet(made(data), book).chosen
        return len(chosen.live) if chosen else -1

    return {"live": live(), "live_by_authority": live(max_circuits=given["max_circuits"])}


KINDS = {
    "drop": drop,
    "derate": derate,
    "breakers": breakers,
    "demand": demand,
    "positions": positions,
    "floor-area": floor_area,
    "temporary": temporary,
    "hookup": hookup,
}

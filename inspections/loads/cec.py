"""The calculated load of a single dwelling: Canadian Electrical Code, Rule 8-200."""

import math

from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.house.service import HeatControl
from inspections.checker.rulebook import Limit, Rulebook

from .facts import CLIMATE, COOKING, Load, LoadFacts
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, added, larger, va

T = "service-load."
DIRECT = (Kind.TANKLESS_WATER_HEATER, Kind.STEAMER, Kind.POOL, Kind.HOT_TUB)


def single_dwelling(facts: LoadFacts, book: Rulebook) -> tuple[Way, Way]:
    """Items a) and b) of the rule; the service carries the greater, so both are required."""
    lines = [*_area(facts, book), *_climate(facts, book), *_range(facts, book)]
    lines += [*_direct(facts, book), *_charging(facts, book), *_others(facts, book)]
    item_a = Way(
        "cec-a",
        "Calculated load, item a)",
        "8-200 1) a)",
        WayRole.REQUIRED,
        tuple(lines),
        facts.volts,
        tuple(_assumed(facts)),
    )
    return item_a, _least(facts, book)


def living_m2(facts: LoadFacts, book: Rulebook) -> tuple[float, float, str]:
    """Living area, the part of it that a basement adds, and its working (Rule 8-110)."""
    floor = 0.0
    if facts.floor:
        floor = facts.floor.m2
    if facts.basement is None:
        return floor, 0.0, f"{floor:,.1f} m²"
    share, height = book[f"{T}basement_pct"], book[f"{T}basement_height_mm"]
    if facts.basement_height_mm is not None and facts.basement_height_mm <= height.value:
        words = f"{floor:,.1f} m²; a basement no higher than {height.printed} is left out"
        return floor, 0.0, words
    part = facts.basement.m2 * share.value / 100
    words = f"{floor:,.1f} m² + {share.value:g} % of {facts.basement.m2:,.1f} m² basement"
    return floor + part, part, f"{words} = {floor + part:,.1f} m²"


def _assumed(facts: LoadFacts) -> list[str]:
    told = []
    if facts.of(Kind.SPACE_HEATING) and facts.heat_control is None:
        told.append("control of the heating not recorded: taken as central, at 100 %")
    if facts.of(*CLIMATE) and facts.interlocked is None:
        told.append("interlock of heating and cooling not recorded: taken as none")
    if facts.basement and facts.basement_height_mm is None:
        told.append("height of the basement not recorded: its area is counted")
    return told


def _area(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    area, _, words = living_m2(facts, book)
    first_m2, first = book[f"{T}first_m2"], book[f"{T}first_w"]
    more_m2, more = book[f"{T}more_m2"], book[f"{T}more_w"]
    over = max(0.0, area - first_m2.value)
    steps = math.ceil(round(over / more_m2.value, 9))
    return [
        LoadLine(
            "basic",
            "Basic load",
            first.value + steps * more.value,
            f"{words}: {va(first.value)} for the first {first_m2.value:g} m² + {steps} × "
            f"{va(more.value)} for each further {more_m2.value:g} m² or part",
            (first_m2, first, more_m2, more),
        )
    ]


def _climate(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    lines = []
    heat = [
        *facts.of(Kind.SPACE_HEATING, Kind.THERMAL_STORAGE, Kind.SUPPLEMENTARY_HEAT),
        *facts.of(Kind.HEAT_PUMP),
    ]
    if heat:
        lines.append(_heating(heat, facts, book))
    cool = facts.of(Kind.COOLING)
    if cool:
        share = book[f"{T}cooling_pct"]
        total = sum(load.va for load in cool) * share.value / 100
        words = f"{added(x.va for x in cool)} at {share.value:g} %"
        lines.append(LoadLine("cooling", "Air conditioning", total, words, (share,)))
    if facts.interlocked:
        lines = larger(lines, "heating and cooling are interlocked")
    taken = []
    for line in lines:
        if line.counts:
            taken.append(line.va)
    if lines:
        words = added(taken)
        lines.append(LoadLine("climate", "Heating and cooling", sum(taken), words, (), False))
    return lines


def _heating(heat: list[Load], facts: LoadFacts, book: Rulebook) -> LoadLine:
    """Heating at its demand: less where each room has a control of its own."""
    if facts.heat_control is HeatControl.ROOM:
        first, rest = book[f"{T}heat_first_w"], book[f"{T}heat_rest_pct"]
        tiers = ((first.value, 100.0), (float("inf"), rest.value))
        limits: tuple[Limit, ...] = (first, rest)
    else:
        share = book[f"{T}central_pct"]
        tiers, limits = ((0.0, 100.0), (float("inf"), share.value)), (share,)
    total = sum(load.va for load in heat)
    figure, words = demand(total, tiers), demand_words(total, tiers)
    return LoadLine("heating", "Electric space heating", figure, words, limits)


def ranges(facts: LoadFacts) -> tuple[Load | None, list[Load]]:
    """The range that item iv) takes, the largest, and the cooking appliances besides."""
    cooking = sorted(facts.of(*COOKING), key=lambda load: -load.va)
    if cooking:
        return (cooking[0], cooking[1:])
    return (None, [])


def _range(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    one, _ = ranges(facts)
    if one is None:
        return []
    base, over, share = (book[f"{T}range_{x}"] for x in ("w", "over_w", "over_pct"))
    beyond = max(0.0, one.va - over.value)
    words = f"{one.id} {va(one.va)}: {va(base.value)} + {share.value:g} % of {va(beyond)}"
    figure = base.value + beyond * share.value / 100
    return [LoadLine("range", "Electric range", figure, words, (base, over, share))]


def _direct(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    loads = facts.of(*DIRECT)
    if not loads:
        return []
    share = book[f"{T}direct_pct"]
    words = ", ".join(f"{load.id} {va(load.va)}" for load in loads)
    figure = sum(load.va for load in loads) * share.value / 100
    label = "Tankless heaters, steamers, pools, hot tubs"
    return [LoadLine("direct", label, figure, f"{words} at {share.value:g} %", (share,))]


def _charging(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    loads = facts.of(Kind.VEHICLE_CHARGING)
    if not loads:
        return []
    share = book[f"{T}charging_pct"]
    figure, words = 0.0, []
    for load in loads:
        if load.managed_to_va is None:
            figure += load.va * share.value / 100
            words.append(f"{load.id} {va(load.va)} at {share.value:g} %")
        else:
            managed = min(load.managed_to_va, load.va)
            figure += managed * share.value / 100
            words.append(f"{load.id} under energy management, at most {va(managed)} (8-106)")
    return [LoadLine("charging", "Vehicle charging", figure, "; ".join(words), (share,))]


def _others(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    one, more_ranges = ranges(facts)
    apart = {*CLIMATE, *COOKING, *DIRECT, Kind.VEHICLE_CHARGING}
    above = book[f"{T}other_over_w"]
    loads = []
    for x in (*facts.without(*apart), *more_ranges):
        if x.va > above.value:
            loads.append(x)
    if not loads:
        return []
    total, share = sum(load.va for load in loads), book[f"{T}other_pct"]
    first = book[f"{T}no_range_first_w"]
    bound = first.value
    if one:
        bound = 0.0
    parts = ((bound, 100.0), (float("inf"), share.value))
    limits: tuple[Limit, ...] = (above, first, share)
    if one:
        limits = (above, share)
    each_va = []
    for load in loads:
        each_va.append(f"{load.id} {va(load.va)}")
    names = ", ".join(each_va)
    words = demand_words(total, parts[1:] if one else parts)
    return [
        LoadLine(
            "others_connected", f"Other loads over {va(above.value)}", total, names, (), False
        ),
        LoadLine("others", "Demand of the other loads", demand(total, parts), words, limits),
    ]


def _least(facts: LoadFacts, book: Rulebook) -> Way:
    """Item b): the least that a dwelling of this size is given."""
    floor = 0.0
    if facts.floor:
        floor = facts.floor.m2
    bound = book[f"{T}large_m2"]
    large = floor >= bound.value
    limit = book[f"{T}{'large' if large else 'small'}_min_w"]
    words = f"{floor:,.1f} m² without the basement, {'at least' if large else 'under'} "
    line = LoadLine(
        "least", "Least load", limit.value, f"{words}{bound.value:g} m²", (bound, limit)
    )
    return Way(
        "cec-b", "Least load, item b)", "8-200 1) b)", WayRole.REQUIRED, (line,), facts.volts
    )


def quebec_charging(
    chargers: list[float], heat_w: float, range_and_water_heater: bool, book: Rulebook
) -> list[float]:
    """The demand of each vehicle charger by Quebec's amendment to 8-200, in watts.

    `heat_w` is space heating that is not central; `range_and_water_heater` whether the house
    has or is made ready for both.
    """
    q = "quebec-charging."
    if not range_and_water_heater:
        shares: list[float] = []
        for each in chargers:
            shares.append(each * book.value(f"{q}other_pct") / 100)
        return shares
    size = "small"
    if heat_w >= book.value(f"{q}large_heat_w"):
        size = "large"
    first, more = (book.value(f"{q}{size}_{x}_pct") for x in ("first", "more"))
    figures: list[float] = []
    for place, each in enumerate(chargers):
        figures.append(each * (more if place else first) / 100)
    return figures

"""The calculated load of a single dwelling: Canadian Electrical Code, Rule 8-200."""

import math
from dataclasses import replace

from config.messages.values import (
    FloorSize,
    Joined,
    Percent,
    Text,
    Value,
    VoltAmperes,
)
from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.house.service import HeatControl
from inspections.checker.rulebook import Limit, Rulebook

from . import line_messages as says
from .facts import CLIMATE, COOKING, Load, LoadFacts
from .line_messages import NAMED, added, at_share, named
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, larger

T = "service-load."
DIRECT = (Kind.TANKLESS_WATER_HEATER, Kind.STEAMER, Kind.POOL, Kind.HOT_TUB)


def single_dwelling(facts: LoadFacts, book: Rulebook) -> tuple[Way, Way]:
    """Items a) and b) of the rule; the service carries the greater, so both are required."""
    lines = [*_area(facts, book), *_climate(facts, book), *_range(facts, book)]
    lines += [*_direct(facts, book), *_charging(facts, book), *_others(facts, book)]
    item_a = Way(
        "cec-a",
        says.CALCULATED_LOAD(),
        "8-200 1) a)",
        WayRole.REQUIRED,
        tuple(lines),
        facts.volts,
        tuple(_assumed(facts)),
    )
    return item_a, _least(facts, book)


def living_m2(facts: LoadFacts, book: Rulebook) -> tuple[float, float, Value]:
    """Living area, the part of it that a basement adds, and its working (Rule 8-110)."""
    floor = 0.0
    if facts.floor:
        floor = facts.floor.m2
    if facts.basement is None:
        return floor, 0.0, FloorSize(floor)
    share, height = book[f"{T}basement_pct"], book[f"{T}basement_height_mm"]
    if facts.basement_height_mm is not None and facts.basement_height_mm <= height.value:
        words = says.BASEMENT_LOW(floor=FloorSize(floor), height=height.printed)
        return floor, 0.0, words
    part = facts.basement.m2 * share.value / 100
    words = says.WITH_BASEMENT(
        floor=FloorSize(floor),
        share=Percent(share.value),
        basement=FloorSize(facts.basement.m2),
        whole=FloorSize(floor + part),
    )
    return floor + part, part, words


def _metric(text: Text) -> Text:
    """A working in the units that this code prints."""
    return replace(text, code_units="metric")


def _assumed(facts: LoadFacts) -> list[Text]:
    told = []
    if facts.of(Kind.SPACE_HEATING) and facts.heat_control is None:
        told.append(says.CONTROL_ASSUMED())
    if facts.of(*CLIMATE) and facts.interlocked is None:
        told.append(says.INTERLOCK_ASSUMED())
    if facts.basement and facts.basement_height_mm is None:
        told.append(says.BASEMENT_ASSUMED())
    return told


def _area(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    area, _, words = living_m2(facts, book)
    first_m2, first = book[f"{T}first_m2"], book[f"{T}first_w"]
    more_m2, more = book[f"{T}more_m2"], book[f"{T}more_w"]
    over = max(0.0, area - first_m2.value)
    steps = math.ceil(round(over / more_m2.value, 9))
    working = says.BASIC_WORKING(
        area=words,
        first=VoltAmperes(first.value),
        first_area=FloorSize(first_m2.value),
        n=steps,
        more=VoltAmperes(more.value),
        more_area=FloorSize(more_m2.value),
    )
    return [
        LoadLine(
            "basic",
            says.BASIC_LOAD(),
            first.value + steps * more.value,
            _metric(working),
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
        words = at_share(added(x.va for x in cool), share.value)
        lines.append(LoadLine("cooling", says.AIR_CONDITIONING(), total, words, (share,)))
    if facts.interlocked:
        lines = larger(lines, says.INTERLOCKED)
    taken = []
    for line in lines:
        if line.counts:
            taken.append(line.va)
    if lines:
        whole = LoadLine("climate", says.CLIMATE(), sum(taken), added(taken), counts=False)
        lines.append(whole)
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
    return LoadLine("heating", says.SPACE_HEATING(), figure, words, limits)


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
    words = says.RANGE_WORKING(
        range=one.id,
        figure=VoltAmperes(one.va),
        base=VoltAmperes(base.value),
        share=Percent(share.value),
        beyond=VoltAmperes(beyond),
    )
    figure = base.value + beyond * share.value / 100
    return [LoadLine("range", says.ELECTRIC_RANGE(), figure, words, (base, over, share))]


def _direct(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    loads = facts.of(*DIRECT)
    if not loads:
        return []
    share = book[f"{T}direct_pct"]
    words = at_share(named(loads), share.value)
    figure = sum(load.va for load in loads) * share.value / 100
    return [LoadLine("direct", says.DIRECT(), figure, words, (share,))]


def _charging(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    loads = facts.of(Kind.VEHICLE_CHARGING)
    if not loads:
        return []
    share = book[f"{T}charging_pct"]
    figure = 0.0
    words: list[Text] = []
    for load in loads:
        if load.managed_to_va is None:
            figure += load.va * share.value / 100
            each = NAMED(what=load.id, figure=VoltAmperes(load.va))
            words.append(at_share(each, share.value))
        else:
            managed = min(load.managed_to_va, load.va)
            figure += managed * share.value / 100
            words.append(says.MANAGED(charger=load.id, figure=VoltAmperes(managed)))
    working = Joined(tuple(words), "; ")
    return [LoadLine("charging", says.CHARGING(), figure, working, (share,))]


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
    words = demand_words(total, parts[1:] if one else parts)
    return [
        LoadLine(
            "others_connected",
            says.OTHERS_CONNECTED(bound=VoltAmperes(above.value)),
            total,
            named(loads),
            counts=False,
        ),
        LoadLine("others", says.OTHERS(), demand(total, parts), words, limits),
    ]


def _least(facts: LoadFacts, book: Rulebook) -> Way:
    """Item b): the least that a dwelling of this size is given."""
    floor = 0.0
    if facts.floor:
        floor = facts.floor.m2
    bound = book[f"{T}large_m2"]
    large = floor >= bound.value
    limit = book[f"{T}{'large' if large else 'small'}_min_w"]
    size = says.AREA_OVER if large else says.AREA_UNDER
    words = _metric(size(floor=FloorSize(floor), bound=FloorSize(bound.value)))
    line = LoadLine("least", says.MINIMUM(), limit.value, words, (bound, limit))
    title = says.MINIMUM_LOAD()
    return Way("cec-b", title, "8-200 1) b)", WayRole.REQUIRED, (line,), facts.volts)


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

"""The load of a manufactured home: 24 CFR 3280.811(a), leg by leg in amperes."""

from dataclasses import replace

from config.messages.message import Amperes, FloorSize, Joined, Percent, Text, Value, VoltAmperes
from inspections.checker.house.service import SQUARE_FOOT
from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.rulebook import Limit, Rulebook

from . import line_messages as says
from .facts import CLIMATE, COOKING, Load, LoadFacts
from .line_messages import NAMED, added, at_share
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, larger

T = "manufactured-load."
LIGHTING = ("lighting_w_per_ft2", "small_appliance_w", "laundry_w")


def manufactured(facts: LoadFacts, book: Rulebook) -> Way:
    """Lighting and small appliances, climate, fixed appliances and range on each leg."""
    lines = [*_lighting(facts, book), *_climate(facts), *_range(facts, book)]
    both = sum(line.va / facts.volts for line in lines if line.counts)
    fixed, low = _fixed(facts, book)
    lines += fixed
    cord, allowance = _cord_rating(facts, book)
    a, b, words = _legs(both + allowance.va, low)
    if allowance.va:
        lines.append(allowance)
    for leg, figure, working in (("A", a, words[0]), ("B", b, words[1])):
        lines.append(_amperes(f"leg_{leg.lower()}", says.LEG(leg=leg), figure, working))
    lines.append(_cord(max(a, b), cord, book))
    return Way(
        "manufactured",
        says.MANUFACTURED(),
        "24 CFR 3280.811(a)",
        WayRole.REQUIRED,
        tuple(lines),
        facts.volts,
        (),
        (a, b),
    )


def _amperes(
    key: str, label: Text, figure: float, working: Value, limits: tuple[Limit, ...] = ()
) -> LoadLine:
    """A line in amperes, which is no part of the sum."""
    return LoadLine(key, label, figure, working, limits, counts=False, in_amperes=True)


def _cord_rating(facts: LoadFacts, book: Rulebook) -> tuple[float, LoadLine]:
    """The cord that the home may have, and what a small one allows for cooling added later."""
    burns_fuel = not facts.of(*COOKING) and not facts.of(*(CLIMATE - {Kind.COOLING}))
    later = book[f"{T}cooling_a_40"]
    allow = 0.0
    if burns_fuel and not facts.of(Kind.COOLING):
        allow = later.value
    words = says.COOLING_LATER_WORKING(amps=Amperes(later.value))
    line = _amperes("cooling_later", says.COOLING_LATER(), allow, words, (later,))
    return book.value(f"{T}{'small_cord_a' if burns_fuel else 'cord_a'}"), line


def _cord(need: float, first: float, book: Rulebook) -> LoadLine:
    """The cord in amperes, 0 where only a feeder will do."""
    large, small = book[f"{T}cord_a"], book[f"{T}small_cord_a"]
    size = 0.0
    for x in (first, large.value):
        if need <= x:
            size = x
            break
    amps = Amperes(round(need, 1))
    words = says.CORD_NONE(amps=amps)
    if size:
        words = says.CORD_FITS(amps=amps, size=Amperes(size))
    return _amperes("cord", says.CORD(), size, words, (large, small))


def _lighting(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    unit, each, wash = (book[f"{T}{name}"] for name in LIGHTING)
    area = 0.0
    if facts.floor:
        area = facts.floor.ft2
    small = max(facts.small_appliance_circuits or 0, book.value(f"{T}min_small_appliance"))
    laundry = facts.laundry_circuits or 0
    figures = (area * unit.value, small * each.value, laundry * wash.value)
    total = sum(figures)
    first, rest = book[f"{T}first_w"], book[f"{T}rest_pct"]
    parts = ((first.value, 100.0), (float("inf"), rest.value))
    needed = demand(total, parts)
    lines = [
        LoadLine(
            "general_lighting",
            says.LIGHTING(),
            figures[0],
            _by_area(area, unit.value),
            (unit,),
            False,
        ),
        LoadLine(
            "small_appliance",
            says.SMALL_APPLIANCE(),
            figures[1],
            says.EACH_OF(n=small, each=VoltAmperes(each.value)),
            (each,),
            False,
        ),
    ]
    if laundry:
        words = says.EACH_OF(n=laundry, each=VoltAmperes(wash.value))
        lines.append(LoadLine("laundry", says.LAUNDRY(), figures[2], words, (wash,), False))
    return [
        *lines,
        LoadLine("lighting_total", says.TOGETHER(), total, added(figures), counts=False),
        LoadLine(
            "lighting_demand",
            says.LIGHTING_DEMAND(),
            needed,
            _on_each_leg(demand_words(total, parts), needed / facts.volts),
            (first, rest),
        ),
    ]


def _by_area(area: float, watts: float) -> Text:
    """Watts for each square foot, which is what this rule prints."""
    text = says.BY_AREA_W(area=FloorSize(area * SQUARE_FOOT), watts=watts)
    return replace(text, code_units="imperial")


def _on_each_leg(working: Value, amps: float) -> Text:
    return says.ON_EACH_LEG(working=working, amps=Amperes(round(amps, 1)))


def _climate(facts: LoadFacts) -> list[LoadLine]:
    lines = []
    heat = []
    for x in facts.of(*CLIMATE):
        if x.kind is not Kind.COOLING:
            heat.append(x)
    for key, label, loads in (
        ("heating", says.HEATING(), heat),
        ("cooling", says.COOLING(), facts.of(Kind.COOLING)),
    ):
        if loads:
            total = sum(load.va for load in loads)
            words = _on_each_leg(added(x.va for x in loads), total / facts.volts)
            lines.append(LoadLine(key, label, total, words))
    return larger(lines, says.NOT_TOGETHER)


def _range(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    """A free-standing range by its rating; ovens and cooktops count among the fixed."""
    ranges = facts.of(Kind.RANGE)
    if not ranges:
        return []
    table, share = book[f"{T}range_w"], book[f"{T}range_pct"]
    total = 0.0
    words: list[Text] = []
    for load in ranges:
        keys = []
        for key in table.value:
            keys.append(int(key))
        bounds = sorted(keys)
        step = next((bound for bound in bounds if load.va <= bound), bounds[-1])
        figure, counted = VoltAmperes(load.va), table.value[str(step)]
        if counted:
            total += counted
            words.append(says.BY_TABLE(figure=figure, counted=VoltAmperes(counted)))
        else:
            total += load.va * share.value / 100
            words.append(at_share(figure, share.value))
    told = _on_each_leg(Joined(tuple(words), "; "), total / facts.volts)
    return [LoadLine("range", says.RANGE(), total, told, (share, table))]


def _fixed(facts: LoadFacts, book: Rulebook) -> tuple[list[LoadLine], list[tuple[Load, float]]]:
    """Fixed appliances, and each of them with its amperes by its own voltage."""
    loads = facts.without(*CLIMATE, Kind.RANGE)
    if not loads:
        return [], []
    rules = (book[f"{T}fixed_count"], book[f"{T}fixed_pct"])
    shared = 0
    for load in loads:
        shared += load.kind in SHARED
    many = shared >= rules[0].value
    share = 1.0
    if many:
        share = rules[1].value / 100
    lines = []
    on_legs = []
    for load in loads:
        figure = load.va * 1.0
        limits: tuple[Limit, ...] = ()
        if load.kind in SHARED:
            figure = load.va * share
            limits = rules
        amps = figure / (load.volts or facts.volts)
        words = _own_working(load, figure, facts)
        step = many and load.kind in SHARED
        lines.append(LoadLine(f"load:{load.id}", load.id, figure, words, limits, step=step))
        on_legs.append((load, amps))
    largest = _largest_motor(facts)
    if largest is not None:
        limit = book[f"{T}motor_pct"]
        figure = largest.va * limit.value / 100
        words = says.MOTOR_WORKING(
            share=Percent(limit.value), motor=largest.id, figure=VoltAmperes(largest.va)
        )
        lines.append(LoadLine("motor", says.MOTOR(), figure, words, (limit,)))
        on_legs.append((largest, figure / (largest.volts or facts.volts)))
    return lines, on_legs


def _own_working(load: Load, figure: float, facts: LoadFacts) -> Text:
    volts = load.volts or facts.volts
    amps, shown = Amperes(round(figure / volts, 1)), VoltAmperes(figure)
    if load.leg:
        return says.OVER_VOLTS_LEG(figure=shown, volts=volts, amps=amps, leg=load.leg)
    return says.OVER_VOLTS(figure=shown, volts=volts, amps=amps)


def _largest_motor(facts: LoadFacts) -> Load | None:
    """The largest of several motors; one by itself adds nothing."""
    motors = []
    for load in facts.loads:
        if load.turns:
            motors.append(load)
    if len(motors) < 2:
        return None
    return max(motors, key=lambda load: load.va)


SHARED = COOKING - {Kind.RANGE} | {
    Kind.DISPOSER,
    Kind.DISHWASHER,
    Kind.WATER_HEATER,
    Kind.DRYER,
}
"""The appliances of which four or more count at a share."""


def _legs(both: float, low: list[tuple[Load, float]]) -> tuple[float, float, tuple[Text, Text]]:
    """Amperes on each leg; a 120 V load whose leg is not recorded yet goes to the emptier one."""
    legs = {"A": both, "B": both}
    words: dict[str, list[Value]] = {"A": [round(both, 1)], "B": [round(both, 1)]}
    for load, amps in sorted(low, key=lambda each: -each[1]):
        alone = load.leg or min("AB", key=lambda leg: legs[leg])
        for leg in alone if load.line_to_neutral else "AB":
            legs[leg] += amps
            words[leg].append(NAMED(what=load.id, figure=Amperes(round(amps, 1))))
    told = {}
    for leg in "AB":
        parts = Joined(tuple(words[leg]), " + ")
        told[leg] = says.LEG_WORKING(parts=parts, amps=Amperes(round(legs[leg], 1)))
    return legs["A"], legs["B"], (told["A"], told["B"])

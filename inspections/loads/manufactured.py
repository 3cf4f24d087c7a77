"""The load of a manufactured home: 24 CFR 3280.811(a), leg by leg in amperes."""

from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.rulebook import Limit, Rulebook

from .facts import CLIMATE, COOKING, Load, LoadFacts
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, added, larger, va

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
    lines.append(LoadLine("leg_a", "Leg A, in amperes", a, words[0], (), False))
    lines.append(LoadLine("leg_b", "Leg B, in amperes", b, words[1], (), False))
    lines.append(_cord(max(a, b), cord, book))
    return Way(
        "manufactured",
        "Manufactured home",
        "24 CFR 3280.811(a)",
        WayRole.REQUIRED,
        tuple(lines),
        facts.volts,
        (),
        (a, b),
    )


def _cord_rating(facts: LoadFacts, book: Rulebook) -> tuple[float, LoadLine]:
    """The cord that the home may have, and what a small one allows for cooling added later."""
    burns_fuel = not facts.of(*COOKING) and not facts.of(*(CLIMATE - {Kind.COOLING}))
    later = book[f"{T}cooling_a_40"]
    allow = 0.0
    if burns_fuel and not facts.of(Kind.COOLING):
        allow = later.value
    words = f"{later.value:g} A on each leg for cooling to be added"
    line = LoadLine("cooling_later", "Cooling later, in amperes", allow, words, (later,), False)
    return book.value(f"{T}{'small_cord_a' if burns_fuel else 'cord_a'}"), line


def _cord(need: float, first: float, book: Rulebook) -> LoadLine:
    """The cord in amperes, 0 where only a feeder will do."""
    large, small = book[f"{T}cord_a"], book[f"{T}small_cord_a"]
    size = 0.0
    for x in (first, large.value):
        if need <= x:
            size = x
            break
    fits = "no cord: a feeder put in for good"
    if size:
        fits = f"a {size:g} A cord"
    words = f"{need:.1f} A on the fuller leg: {fits}"
    return LoadLine("cord", "Supply cord, in amperes", size, words, (large, small), False)


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
            "Lighting",
            figures[0],
            f"{area:,.0f} ft² × {unit.value:g} W",
            (unit,),
            False,
        ),
        LoadLine(
            "small_appliance",
            "Small-appliance circuits",
            figures[1],
            f"{small} × {va(each.value)}",
            (each,),
            False,
        ),
    ]
    if laundry:
        words = f"{laundry} × {va(wash.value)}"
        lines.append(LoadLine("laundry", "Laundry circuits", figures[2], words, (wash,), False))
    return [
        *lines,
        LoadLine("lighting_total", "Together", total, added(figures), (), False),
        LoadLine(
            "lighting_demand",
            "Demand of lighting and small appliances",
            needed,
            f"{demand_words(total, parts)}; {needed / facts.volts:.1f} A on each leg",
            (first, rest),
        ),
    ]


def _climate(facts: LoadFacts) -> list[LoadLine]:
    lines = []
    heat = []
    for x in facts.of(*CLIMATE):
        if x.kind is not Kind.COOLING:
            heat.append(x)
    for key, label, loads in (
        ("heating", "Heating", heat),
        ("cooling", "Cooling", facts.of(Kind.COOLING)),
    ):
        if loads:
            total = sum(load.va for load in loads)
            words = f"{added(x.va for x in loads)}; {total / facts.volts:.1f} A on each leg"
            lines.append(LoadLine(key, label, total, words))
    return larger(lines, "heating and cooling do not run at one time")


def _range(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    """A free-standing range by its rating; ovens and cooktops count among the fixed."""
    ranges = facts.of(Kind.RANGE)
    if not ranges:
        return []
    table, share = book[f"{T}range_w"], book[f"{T}range_pct"]
    total, words = 0.0, []
    for load in ranges:
        keys = []
        for key in table.value:
            keys.append(int(key))
        bounds = sorted(keys)
        step = next((bound for bound in bounds if load.va <= bound), bounds[-1])
        if table.value[str(step)]:
            total += table.value[str(step)]
            words.append(f"{va(load.va)}: {va(table.value[str(step)])}")
        else:
            total += load.va * share.value / 100
            words.append(f"{va(load.va)} at {share.value:g} %")
    told = f"{'; '.join(words)}; {total / facts.volts:.1f} A on each leg"
    return [LoadLine("range", "Range", total, told, (share, table))]


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
        words = f"{limit.value:g} % of the largest motor, {largest.id} {va(largest.va)}"
        lines.append(LoadLine("motor", "Largest motor", figure, words, (limit,)))
        on_legs.append((largest, figure / (largest.volts or facts.volts)))
    return lines, on_legs


def _own_working(load: Load, figure: float, facts: LoadFacts) -> str:
    volts = load.volts or facts.volts
    words = f"{va(figure)} / {volts:g} V = {figure / volts:.1f} A"
    if load.leg:
        return f"{words} on leg {load.leg}"
    return words


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


def _legs(both: float, low: list[tuple[Load, float]]) -> tuple[float, float, tuple[str, str]]:
    """Amperes on each leg; a 120 V load whose leg nobody recorded goes to the emptier one."""
    legs, words = {"A": both, "B": both}, {"A": [f"{both:.1f}"], "B": [f"{both:.1f}"]}
    for load, amps in sorted(low, key=lambda each: -each[1]):
        alone = load.leg or min("AB", key=lambda leg: legs[leg])
        for leg in alone if load.line_to_neutral else "AB":
            legs[leg] += amps
            words[leg].append(f"{amps:.1f} {load.id}")
    told = {}
    for leg in "AB":
        told[leg] = f"{' + '.join(words[leg])} = {legs[leg]:.1f} A"
    return legs["A"], legs["B"], (told["A"], told["B"])

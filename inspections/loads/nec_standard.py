"""The standard calculation of a dwelling: NEC Article 220, Part III."""

from inspections.checker import Rulebook
from inspections.checker.house.service import ApplianceKind as Kind

from .cooking import cooking_line, counted_appliances
from .facts import CLIMATE, Load, LoadFacts
from .nec_general import general_lines
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, added, larger, va

T = "standard-load."


def standard(facts: LoadFacts, book: Rulebook) -> Way:
    """Lighting and small appliances, fixed appliances, dryer, cooking, climate, motor."""
    lines = [*_lighting(facts, book), *_fixed(facts, book), *_dryer(facts, book)]
    if cooking := cooking_line(facts, book):
        lines.append(cooking)
    lines += [*_charging(facts, book), *_climate(facts, book)]
    lines += _motor(facts, lines, book)
    lines.append(_neutral(facts, lines, book))
    return Way(
        "nec-standard",
        "Standard calculation",
        "Article 220 Part III",
        WayRole.CHOICE,
        tuple(lines),
        facts.volts,
        tuple(_assumed(facts)),
    )


def _assumed(facts: LoadFacts) -> list[str]:
    told = []
    if facts.small_appliance_circuits is None:
        told.append("small-appliance circuits not recorded: the fewest the code allows are taken")
    if facts.laundry_circuits is None:
        told.append("laundry circuits not recorded: the fewest the code allows are taken")
    return told


def _lighting(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    unit, each = book[f"{T}lighting_va_per_ft2"], book[f"{T}small_appliance_va"]
    lines = general_lines(facts, book, unit, each, book[f"{T}laundry_va"])
    figures = []
    for line in lines:
        figures.append(line.va)
    total = sum(figures)
    first = book.value(f"{T}lighting_first_va")
    parts = (
        (first, 100.0),
        (book.value(f"{T}lighting_next_to_va"), book.value(f"{T}lighting_next_pct")),
        (float("inf"), book.value(f"{T}lighting_rest_pct")),
    )
    names = ("first_va", "next_to_va", "next_pct", "rest_pct")
    tiers = []
    for name in names:
        tiers.append(book[f"{T}lighting_{name}"])
    return [
        *lines,
        LoadLine("lighting_total", "Together", total, added(figures), (), False),
        LoadLine(
            "lighting_demand",
            "Demand of lighting and small appliances",
            demand(total, parts),
            demand_words(total, parts),
            tuple(tiers),
        ),
    ]


def fixed_loads(facts: LoadFacts, book: Rulebook) -> list[Load]:
    """Appliances fastened in place: none for cooking, drying, heating, cooling or charging."""
    apart = {*CLIMATE, Kind.DRYER, Kind.VEHICLE_CHARGING, Kind.FURNACE_BLOWER}
    cooking = set()
    for load in counted_appliances(facts, book):
        cooking.add(id(load))
    fixed: list[Load] = []
    for x in facts.without(*apart):
        if id(x) not in cooking:
            fixed.append(x)
    return fixed


def _fixed(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    loads = fixed_loads(facts, book)
    blower = facts.of(Kind.FURNACE_BLOWER)
    lines = []
    if loads:
        least = book.value(f"{T}fixed_min_va", 0.0)
        shared = []
        for load in loads:
            if load.va >= least:
                shared.append(load)
        rest = []
        for load in loads:
            if load.va < least:
                rest.append(load)
        many = len(shared) >= book.value(f"{T}fixed_count")
        share = 100.0
        if many:
            share = book.value(f"{T}fixed_pct")
        connected = sum(load.va for load in shared)
        names = ("fixed_count", "fixed_pct", "fixed_min_va")
        rules = []
        for name in names:
            if T + name in book:
                rules.append(book[T + name])
        words = f"{added(load.va for load in shared)} = {va(connected)} at {share:g} %"
        if rest:
            words += f"; {added(load.va for load in rest)} smaller, at 100 %"
        total = connected + sum(load.va for load in rest)
        lines += [
            LoadLine("fixed_connected", "Appliances fastened in place", total, words, (), False),
            LoadLine(
                "fixed",
                f"Demand of {len(loads)} appliances fastened in place",
                connected * share / 100 + sum(load.va for load in rest),
                words,
                tuple(rules),
                step=many,
            ),
        ]
    if blower:
        total = sum(load.va for load in blower)
        lines.append(
            LoadLine(
                "blower",
                "Blower of a fuel-fired furnace",
                total,
                f"{added(x.va for x in blower)}; heating equipment, so not among the fixed ones",
                (book[f"{T}fixed_count"],),
            )
        )
    return lines


def _dryer(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    least = book[f"{T}dryer_min_va"]
    dryers = facts.of(Kind.DRYER)
    if not dryers:
        return []
    each = []
    for load in dryers:
        each.append(max(load.va, least.value))
    words = f"{added(each)}; nameplate, {va(least.value)} at least"
    return [LoadLine("dryer", "Clothes dryer", sum(each), words, (least,))]


def charging_va(load: Load, book: Rulebook) -> tuple[float, str]:
    """The demand of a vehicle charger: what management lets through, else its nameplate."""
    share, least = book.value(f"{T}charging_pct"), book.value(f"{T}charging_min_va", 0.0)
    if load.managed_to_va is not None:
        managed = min(load.managed_to_va, load.va)
        return managed * share / 100, f"managed to {va(managed)} at {share:g} %"
    base = max(load.va, least)
    words = f"{va(base)} at {share:g} %" + (f", {va(least)} at least" if least else "")
    return base * share / 100, words


def _charging(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    found = []
    for load in facts.of(Kind.VEHICLE_CHARGING):
        found.append(charging_va(load, book))
    if not found:
        return []
    names = ("charging_pct", "charging_min_va")
    limits = []
    for name in names:
        if T + name in book:
            limits.append(book[T + name])
    words = "; ".join(words for _, words in found)
    return [
        LoadLine("charging", "Vehicle charging", sum(x for x, _ in found), words, tuple(limits))
    ]


def _climate(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    """The larger of heating and cooling, which do not run at one time (220.60)."""
    pump, back = facts.of(Kind.HEAT_PUMP), facts.of(Kind.SUPPLEMENTARY_HEAT)
    heat = facts.of(Kind.SPACE_HEATING, Kind.THERMAL_STORAGE)
    together = facts.supplementary_together is not False
    heating = [*heat, *back, *(pump if together or not back else [])]
    cooling = [*facts.of(Kind.COOLING), *pump]
    lines = []
    if heating:
        share = book[f"{T}heating_pct"]
        total = sum(x.va for x in heating) * share.value / 100
        words = f"{added(x.va for x in heating)} at {share.value:g} %"
        lines.append(LoadLine("heating", "Heating", total, words, (share,)))
    if facts.of(Kind.COOLING) or (pump and not heating):
        share = book[f"{T}cooling_pct"]
        total = sum(x.va for x in cooling) * share.value / 100
        words = f"{added(x.va for x in cooling)} at {share.value:g} %"
        lines.append(LoadLine("cooling", "Cooling", total, words, (share,)))
    return larger(lines, "heating and cooling do not run at one time")


def _motor(facts: LoadFacts, lines: list[LoadLine], book: Rulebook) -> list[LoadLine]:
    """A quarter of the largest motor among the loads that count."""
    out = set()
    for line in lines:
        if line.left_out:
            out.add(line.key)
    if "cooling" in out:
        cooled = {Kind.COOLING}
    else:
        cooled = set()
    if "heating" in out and "cooling" in out:
        heated = {Kind.HEAT_PUMP}
    else:
        heated = set()
    motors = []
    for x in facts.loads:
        if x.turns and x.kind not in cooled | heated:
            motors.append(x)
    if not motors:
        return []
    limit, largest = book[f"{T}motor_pct"], max(motors, key=lambda load: load.va)
    words = f"{limit.value:g} % of the largest motor, {largest.id} {va(largest.va)}"
    return [
        LoadLine("motor", "Largest motor", largest.va * limit.value / 100, words, (limit,)),
    ]


def _neutral(facts: LoadFacts, lines: list[LoadLine], book: Rulebook) -> LoadLine:
    """The load of the neutral: 70 % of cooking and dryer, and what is fed at 120 V."""
    by = {}
    for line in lines:
        by[line.key] = line
    cook, dry = book[f"{T}neutral_cooking_pct"], book[f"{T}neutral_dryer_pct"]
    parts = [by["lighting_demand"].va]
    words = [va(by["lighting_demand"].va)]
    for key, limit in (("cooking", cook), ("dryer", dry)):
        if key in by:
            parts.append(by[key].va * limit.value / 100)
            words.append(f"{va(by[key].va)} × {limit.value:g} %")
    fixed, kept = fixed_loads(facts, book), by.get("fixed")
    low = []
    for load in (*fixed, *facts.of(Kind.FURNACE_BLOWER)):
        if load.line_to_neutral:
            low.append(load)
    if low:
        connected = sum(load.va for load in fixed) or 1.0
        share = 1.0
        if kept:
            share = kept.va / connected
        both = sum(x.va * (share if x in fixed else 1.0) for x in low)
        parts.append(both)
        words.append(f"{va(both)} fed at 120 V")
    return LoadLine("neutral", "Neutral", sum(parts), " + ".join(words), (cook, dry), counts=False)

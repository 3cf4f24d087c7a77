"""The standard calculation of a dwelling: NEC Article 220, Part III."""

from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.rulebook import Limit, Rulebook

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
    lines = []
    if loads := fixed_loads(facts, book):
        lines += _demand_of_fixed(loads, book)
    if blower := facts.of(Kind.FURNACE_BLOWER):
        listed = added(load.va for load in blower)
        lines.append(
            LoadLine(
                "blower",
                "Blower of a fuel-fired furnace",
                sum(load.va for load in blower),
                f"{listed}; heating equipment, so not among the fixed ones",
                (book[f"{T}fixed_count"],),
            )
        )
    return lines


def _demand_of_fixed(loads: list[Load], book: Rulebook) -> list[LoadLine]:
    """Their connected load, and their demand: where many, a share of all but the smaller ones."""
    least = book.value(f"{T}fixed_min_va", 0.0)
    shared = []
    smaller = []
    for load in loads:
        if load.va >= least:
            shared.append(load.va)
        else:
            smaller.append(load.va)
    many = len(shared) >= book.value(f"{T}fixed_count")
    share = 100.0
    if many:
        share = book.value(f"{T}fixed_pct")
    rules = []
    for name in ("fixed_count", "fixed_pct", "fixed_min_va"):
        if T + name in book:
            rules.append(book[T + name])
    connected, rest = sum(shared), sum(smaller)
    words = f"{added(shared)} = {va(connected)} at {share:g} %"
    if smaller:
        words += f"; {added(smaller)} smaller, at 100 %"
    return [
        LoadLine(
            "fixed_connected", "Appliances fastened in place", connected + rest, words, (), False
        ),
        LoadLine(
            "fixed",
            f"Demand of {len(loads)} appliances fastened in place",
            connected * share / 100 + rest,
            words,
            tuple(rules),
            step=many,
        ),
    ]


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
    chargers = []
    for load in facts.of(Kind.VEHICLE_CHARGING):
        chargers.append(charging_va(load, book))
    if not chargers:
        return []
    names = ("charging_pct", "charging_min_va")
    limits = []
    for name in names:
        if T + name in book:
            limits.append(book[T + name])
    words = "; ".join(words for _, words in chargers)
    return [
        LoadLine("charging", "Vehicle charging", sum(x for x, _ in chargers), words, tuple(limits))
    ]


def _climate(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    """The larger of heating and cooling, which do not run at one time (220.60)."""
    pump, back = facts.of(Kind.HEAT_PUMP), facts.of(Kind.SUPPLEMENTARY_HEAT)
    heating = [*facts.of(Kind.SPACE_HEATING, Kind.THERMAL_STORAGE), *back]
    if facts.supplementary_together is not False or not back:
        heating += pump
    cooling = facts.of(Kind.COOLING)
    lines = []
    if heating:
        lines.append(_at_share("heating", "Heating", heating, book[f"{T}heating_pct"]))
    if cooling or (pump and not heating):
        share = book[f"{T}cooling_pct"]
        lines.append(_at_share("cooling", "Cooling", [*cooling, *pump], share))
    return larger(lines, "heating and cooling do not run at one time")


def _at_share(key: str, label: str, loads: list[Load], share: Limit) -> LoadLine:
    total = sum(load.va for load in loads) * share.value / 100
    words = f"{added(load.va for load in loads)} at {share.value:g} %"
    return LoadLine(key, label, total, words, (share,))


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
    figures = [by["lighting_demand"].va]
    words = [va(by["lighting_demand"].va)]
    for key, limit in (("cooking", cook), ("dryer", dry)):
        if key in by:
            figures.append(by[key].va * limit.value / 100)
            words.append(f"{va(by[key].va)} × {limit.value:g} %")
    at_120_v = _fed_at_120_v(facts, by.get("fixed"), book)
    if at_120_v is not None:
        figures.append(at_120_v)
        words.append(f"{va(at_120_v)} fed at 120 V")
    return LoadLine(
        "neutral", "Neutral", sum(figures), " + ".join(words), (cook, dry), counts=False
    )


def _fed_at_120_v(facts: LoadFacts, demand: LoadLine | None, book: Rulebook) -> float | None:
    """What fixed appliances, at the share of their demand, and a blower lay on the neutral."""
    fixed = fixed_loads(facts, book)
    share = 1.0
    if demand:
        share = demand.va / (sum(load.va for load in fixed) or 1.0)
    figures = []
    for load in fixed:
        if load.line_to_neutral:
            figures.append(load.va * share)
    for load in facts.of(Kind.FURNACE_BLOWER):
        if load.line_to_neutral:
            figures.append(load.va)
    if not figures:
        return None
    return sum(figures)

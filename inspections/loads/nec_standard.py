"""The standard calculation of a dwelling: NEC Article 220, Part III."""

from config.messages.message import Joined, Percent, Text, Value, VoltAmperes
from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.rulebook import Limit, Rulebook

from . import line_messages as says
from .cooking import cooking_line, counted_appliances
from .facts import CLIMATE, Load, LoadFacts
from .line_messages import added, at_share
from .nec_general import general_lines
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, larger

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
        says.STANDARD(),
        "Article 220 Part III",
        WayRole.CHOICE,
        tuple(lines),
        facts.volts,
        tuple(_assumed(facts)),
    )


def _assumed(facts: LoadFacts) -> list[Text]:
    told = []
    if facts.small_appliance_circuits is None:
        told.append(says.CIRCUITS_ASSUMED())
    if facts.laundry_circuits is None:
        told.append(says.LAUNDRY_ASSUMED())
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
        LoadLine("lighting_total", says.TOGETHER(), total, added(figures), counts=False),
        LoadLine(
            "lighting_demand",
            says.LIGHTING_DEMAND(),
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
                says.BLOWER(),
                sum(load.va for load in blower),
                says.BLOWER_WORKING(sum=listed),
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
    parts = [
        says.FIXED_WORKING(sum=added(shared), total=VoltAmperes(connected), share=Percent(share))
    ]
    if smaller:
        parts.append(says.SMALLER(sum=added(smaller)))
    words = Joined(tuple(parts), "; ")
    return [
        LoadLine("fixed_connected", says.FIXED_CONNECTED(), connected + rest, words, counts=False),
        LoadLine(
            "fixed",
            says.FIXED(n=len(loads)),
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
    words = says.DRYER_WORKING(sum=added(each), least=VoltAmperes(least.value))
    return [LoadLine("dryer", says.DRYER(), sum(each), words, (least,))]


def charging_va(load: Load, book: Rulebook) -> tuple[float, Text]:
    """The demand of a vehicle charger: what management lets through, else its nameplate."""
    share, least = book.value(f"{T}charging_pct"), book.value(f"{T}charging_min_va", 0.0)
    if load.managed_to_va is not None:
        managed = min(load.managed_to_va, load.va)
        words = says.CHARGER_MANAGED(figure=VoltAmperes(managed), share=Percent(share))
        return managed * share / 100, words
    base = max(load.va, least)
    if not least:
        return base * share / 100, at_share(VoltAmperes(base), share)
    words = says.CHARGER_MINIMUM(
        figure=VoltAmperes(base), share=Percent(share), least=VoltAmperes(least)
    )
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
    words = Joined(tuple(words for _, words in chargers), "; ")
    total = sum(figure for figure, _ in chargers)
    return [LoadLine("charging", says.CHARGING(), total, words, tuple(limits))]


def _climate(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    """The larger of heating and cooling, which do not run at one time (220.60)."""
    pump, back = facts.of(Kind.HEAT_PUMP), facts.of(Kind.SUPPLEMENTARY_HEAT)
    heating = [*facts.of(Kind.SPACE_HEATING, Kind.THERMAL_STORAGE), *back]
    if facts.supplementary_together is not False or not back:
        heating += pump
    cooling = facts.of(Kind.COOLING)
    lines = []
    if heating:
        lines.append(_at_share("heating", says.HEATING(), heating, book[f"{T}heating_pct"]))
    if cooling or (pump and not heating):
        share = book[f"{T}cooling_pct"]
        lines.append(_at_share("cooling", says.COOLING(), [*cooling, *pump], share))
    return larger(lines, says.NOT_TOGETHER)


def _at_share(key: str, label: Text, loads: list[Load], share: Limit) -> LoadLine:
    total = sum(load.va for load in loads) * share.value / 100
    words = at_share(added(load.va for load in loads), share.value)
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
    words = says.MOTOR_WORKING(
        share=Percent(limit.value), motor=largest.id, figure=VoltAmperes(largest.va)
    )
    return [
        LoadLine("motor", says.MOTOR(), largest.va * limit.value / 100, words, (limit,)),
    ]


def _neutral(facts: LoadFacts, lines: list[LoadLine], book: Rulebook) -> LoadLine:
    """The load of the neutral: 70 % of cooking and dryer, and what is fed at 120 V."""
    by = {}
    for line in lines:
        by[line.key] = line
    cook, dry = book[f"{T}neutral_cooking_pct"], book[f"{T}neutral_dryer_pct"]
    figures = [by["lighting_demand"].va]
    words: list[Value] = [VoltAmperes(by["lighting_demand"].va)]
    for key, limit in (("cooking", cook), ("dryer", dry)):
        if key in by:
            figures.append(by[key].va * limit.value / 100)
            figure, share = VoltAmperes(by[key].va), Percent(limit.value)
            words.append(says.NEUTRAL_SHARE(figure=figure, share=share))
    at_120_v = _fed_at_120_v(facts, by.get("fixed"), book)
    if at_120_v is not None:
        figures.append(at_120_v)
        words.append(says.NEUTRAL_120(figure=VoltAmperes(at_120_v)))
    working = Joined(tuple(words), " + ")
    return LoadLine("neutral", says.NEUTRAL(), sum(figures), working, (cook, dry), counts=False)


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

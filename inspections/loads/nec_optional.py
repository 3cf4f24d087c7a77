"""The optional calculation of a dwelling: NEC 220.82."""

from config.messages.message import Joined, Text, Value, VoltAmperes
from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.house.service import HeatControl
from inspections.checker.rulebook import Limit, Rulebook

from . import line_messages as says
from .facts import CLIMATE, Load, LoadFacts
from .line_messages import NAMED, added, at_share
from .nec_general import general_lines
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, larger

T = "optional-load."


def optional(facts: LoadFacts, book: Rulebook) -> Way:
    """The general load at 100 and 40 %, and the largest of the climate loads."""
    unit, each = book[f"{T}lighting_va_per_ft2"], book[f"{T}circuit_va"]
    counted = general_lines(facts, book, unit, each, each)
    rest = []
    for load in facts.without(*CLIMATE):
        rest.append((load, _general_va(load)))
    appliances = sum(figure for _, figure in rest)
    vas = []
    for line in counted:
        vas.append(line.va)
    figures = (*vas, appliances)
    general = sum(figures)
    first, share = book[f"{T}first_va"], book[f"{T}rest_pct"]
    parts = ((first.value, 100.0), (float("inf"), share.value))
    named = []
    for load, figure in rest:
        named.append(NAMED(what=load.id, figure=VoltAmperes(figure)))
    listed: Value = says.NONE()
    if named:
        listed = Joined(tuple(named), ", ")
    lines = [
        *counted,
        LoadLine("appliances", says.APPLIANCES(), appliances, listed, counts=False),
        LoadLine("general", says.GENERAL(), general, added(figures), counts=False),
        LoadLine(
            "general_demand",
            says.GENERAL_DEMAND(),
            demand(general, parts),
            demand_words(general, parts),
            (first, share),
        ),
        *_climate(facts, book),
    ]
    return Way(
        "nec-optional",
        says.OPTIONAL(),
        "220.82",
        WayRole.CHOICE,
        tuple(lines),
        facts.volts,
    )


def _general_va(load: Load) -> float:
    if load.kind is Kind.VEHICLE_CHARGING and load.managed_to_va is not None:
        return min(load.managed_to_va, load.va)
    return load.va


def _climate(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    """The largest of what 220.82(C) lists."""
    lines = []

    def choice(key: str, label: Text, loads: list[Load], limit: str, step: bool = False) -> None:
        if loads:
            rule = book[f"{T}{limit}"]
            total = sum(load.va for load in loads)
            words = at_share(added(x.va for x in loads), rule.value)
            figure = total * rule.value / 100
            lines.append(LoadLine(key, label, figure, words, (rule,), step=step))

    choice("cooling", says.COOLING(), facts.of(Kind.COOLING), "cooling_pct")
    lines += _heat_pump(facts, book)
    heaters = facts.of(Kind.SPACE_HEATING)
    if facts.heat_control is HeatControl.ROOM:
        many = len(heaters) >= book.value(f"{T}many_count")
        share = "few_pct"
        if many:
            share = "many_pct"
        choice("heating", says.HEATERS(n=len(heaters)), heaters, share, many)
    else:
        choice("heating", says.ELECTRIC_HEATING(), heaters, "central_pct")
    choice("storage", says.STORAGE(), facts.of(Kind.THERMAL_STORAGE), "storage_pct")
    return larger(lines, says.NEC_LARGEST)


def _heat_pump(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    pump, back = facts.of(Kind.HEAT_PUMP), facts.of(Kind.SUPPLEMENTARY_HEAT)
    if not pump and not back:
        return []
    whole, part = book[f"{T}heat_pump_pct"], book[f"{T}supplementary_pct"]
    compressor, words = _at_share(pump, whole)
    if not back:
        return [LoadLine("heat_pump", says.HEAT_PUMP(), compressor, words, (whole,))]
    strips, strip_words = _at_share(back, part)
    if facts.supplementary_together is False:
        lines = [LoadLine("supplementary", says.SUPPLEMENTARY(), strips, strip_words, (part,))]
        if pump:
            apart = says.PUMP_ALONE(working=words)
            lines.append(LoadLine("heat_pump", says.HEAT_PUMP(), compressor, apart, (whole,)))
        return lines
    why: Value = says.PUMP_ASSUMED()
    if facts.supplementary_together:
        why = ""
    return [
        LoadLine(
            "heat_pump",
            says.PUMP_WITH(),
            compressor + strips,
            Joined((words, strip_words), " + "),
            (whole, part),
            why=why,
        )
    ]


def _at_share(loads: list[Load], share: Limit) -> tuple[float, Text]:
    figure = sum(load.va for load in loads) * share.value / 100
    return figure, at_share(added(load.va for load in loads), share.value)

"""The optional calculation of a dwelling: NEC 220.82."""

from inspections.checker.house.service import ApplianceKind as Kind
from inspections.checker.house.service import HeatControl
from inspections.checker.rulebook import Limit, Rulebook

from .facts import CLIMATE, Load, LoadFacts
from .nec_general import general_lines
from .tiers import demand, demand_words
from .ways import LoadLine, Way, WayRole, added, larger, va

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
    named = ", ".join(f"{load.id} {va(figure)}" for load, figure in rest) or "none"
    lines = [
        *counted,
        LoadLine("appliances", "Appliances by nameplate", appliances, named, (), False),
        LoadLine("general", "General load", general, added(figures), (), False),
        LoadLine(
            "general_demand",
            "Demand of the general load",
            demand(general, parts),
            demand_words(general, parts),
            (first, share),
        ),
        *_climate(facts, book),
    ]
    return Way(
        "nec-optional",
        "Optional calculation",
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

    def choice(key: str, label: str, loads: list[Load], limit: str, step: bool = False) -> None:
        if loads:
            rule = book[f"{T}{limit}"]
            total = sum(load.va for load in loads)
            words = f"{added(x.va for x in loads)} at {rule.value:g} %"
            figure = total * rule.value / 100
            lines.append(LoadLine(key, label, figure, words, (rule,), step=step))

    choice("cooling", "Cooling", facts.of(Kind.COOLING), "cooling_pct")
    lines += _heat_pump(facts, book)
    heaters = facts.of(Kind.SPACE_HEATING)
    if facts.heat_control is HeatControl.ROOM:
        many = len(heaters) >= book.value(f"{T}many_count")
        share = "few_pct"
        if many:
            share = "many_pct"
        choice("heating", f"{len(heaters)} heaters, each controlled", heaters, share, many)
    else:
        choice("heating", "Electric heating", heaters, "central_pct")
    choice("storage", "Thermal storage", facts.of(Kind.THERMAL_STORAGE), "storage_pct")
    return larger(lines, "220.82(C) takes the largest")


def _heat_pump(facts: LoadFacts, book: Rulebook) -> list[LoadLine]:
    pump, back = facts.of(Kind.HEAT_PUMP), facts.of(Kind.SUPPLEMENTARY_HEAT)
    if not pump and not back:
        return []
    whole, part = book[f"{T}heat_pump_pct"], book[f"{T}supplementary_pct"]
    compressor, words = _at_share(pump, whole)
    if not back:
        return [LoadLine("heat_pump", "Heat pump", compressor, words, (whole,))]
    strips, strip_words = _at_share(back, part)
    pump_words = f"{va(compressor)} at {whole.value:g} %"
    if facts.supplementary_together is False:
        lines = [LoadLine("supplementary", "Supplementary heat", strips, strip_words, (part,))]
        if pump:
            words = f"{pump_words}, not at one time with the other"
            lines.append(LoadLine("heat_pump", "Heat pump", compressor, words, (whole,)))
        return lines
    why = "not recorded whether they run together: taken so"
    if facts.supplementary_together:
        why = ""
    return [
        LoadLine(
            "heat_pump",
            "Heat pump with supplementary heat",
            compressor + strips,
            f"{pump_words} + {strip_words}",
            (whole, part),
            why=why,
        )
    ]


def _at_share(loads: list[Load], share: Limit) -> tuple[float, str]:
    figure = sum(load.va for load in loads) * share.value / 100
    return figure, f"{added(load.va for load in loads)} at {share.value:g} %"

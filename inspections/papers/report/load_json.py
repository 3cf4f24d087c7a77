"""The load calculation, the panel schedule and the hookup sheet as JSON, in English. Pure."""

from collections.abc import Iterable, Sequence
from typing import Any

from config.messages.saying import said
from inspections.checker.house import House
from inspections.checker.rulebook import Limit, Rulebook
from inspections.loads import LoadLine, ServiceLoad, Way
from inspections.loads.branch import Branch
from inspections.loads.breakers import Breaker
from inspections.loads.hookup import HookupSheet
from inspections.loads.hookup_messages import CAUTIONS, NOT_COVERED
from inspections.loads.panel import PanelSchedule
from inspections.loads.service import Check


def load_json(house: House, load: ServiceLoad) -> dict[str, Any]:
    """A load calculation with every line of every way."""
    checks = []
    for check in load.checks:
        checks.append(_check(check))
    ways = []
    for way in load.ways:
        ways.append(_way(way))
    conductors = []
    for each in load.sized:
        limits = []
        for limit in each.limits:
            limits.append(_limit(limit))
        conductors.append(
            {
                "what": said(each.what),
                "size": each.size,
                "working": said(each.working),
                "limits": limits,
            }
        )
    return {
        **_head(house, load.rulebook),
        "verdict": load.verdict.value,
        "need_a": round(load.need_a, 2),
        "service_a": load.size_a,
        "why": said(load.why or ""),
        "checks": checks,
        "ways": ways,
        "conductors": conductors,
    }


def panel_json(house: House, book: Rulebook, schedules: Sequence[PanelSchedule]) -> dict[str, Any]:
    """The schedule of each panel with its circuits, places and best arrangement."""
    panels = []
    for schedule in schedules:
        panels.append(_panel(schedule))
    return {**_head(house, book), "panels": panels}


def hookup_json(house: House, book: Rulebook, sheet: HookupSheet) -> dict[str, Any]:
    """The hookup sheet: readiness, live and locked-off lists, what was left out and why."""
    return {
        **_head(house, book),
        "verdict": sheet.verdict.value,
        "reference": sheet.reference,
        "readiness": _checks(sheet.readiness),
        "live_is": "proposed" if sheet.proposed else "authorised",
        "authorised_on": sheet.authorised_on.isoformat() if sheet.authorised_on else None,
        "authorised": _authorised(sheet),
        "warnings": [said(each) for each in sheet.warnings],
        "live": _breakers(sheet.live),
        "locked_off": _breakers(sheet.locked_off),
        "chosen": _chosen(sheet),
        "heat": [said(each) for each in sheet.heat],
        "temporary": _checks(sheet.temporary),
        "cautions": [said(each()) for each in CAUTIONS],
        "not_covered": [said(each()) for each in NOT_COVERED],
    }


def _authorised(sheet: HookupSheet) -> list[dict[str, str]] | None:
    if sheet.authorised is None:
        return None
    return [{"circuit": each.id, "label": each.label} for each in sheet.authorised]


def _chosen(sheet: HookupSheet) -> dict[str, Any] | None:
    """The circuits that are proposed to be live: how good the choice is, and what it leaves out."""
    chosen = sheet.chosen
    if not chosen:
        return None
    left_out = []
    for want, why in chosen.left_out:
        left_out.append({"name": want.name, "rank": want.rank, "why": said(why)})
    return {
        "proven": chosen.proven,
        "proof": [said(each) for each in chosen.proof],
        "circuits_at_most": chosen.bounds.circuits,
        "leg_a_a": round(chosen.a_amps, 2),
        "leg_b_a": round(chosen.b_amps, 2),
        "left_out": left_out,
    }


def _head(house: House, book: Rulebook) -> dict[str, Any]:
    return {
        "house": house.name,
        "rulebook": {"id": book.id, "title": book.title},
        "amendments": book.amendments,
    }


def _way(way: Way) -> dict[str, Any]:
    lines = []
    for line in way.lines:
        lines.append(_line(line))
    return {
        "id": way.id,
        "title": said(way.title),
        "section": way.section,
        "role": way.role.value,
        "total_va": round(way.total_va, 2),
        "before_larger_of_va": round(way.before_larger_va, 2),
        "amps": round(way.amps, 2),
        "legs_a": [round(x, 2) for x in way.per_leg_a] if way.per_leg_a else None,
        "assumed": [said(each) for each in way.assumed],
        "lines": lines,
    }


def _line(line: LoadLine) -> dict[str, Any]:
    limits = []
    for limit in line.limits:
        limits.append(_limit(limit))
    return {
        "key": line.key,
        "label": said(line.label),
        "va": round(line.va, 2),
        "working": said(line.working),
        "counts": line.counts,
        "left_out": line.left_out,
        "why": said(line.why),
        "limits": limits,
    }


def _limit(limit: Limit) -> dict[str, Any]:
    return {
        "limit": limit.name,
        "section": limit.section,
        "edition": limit.edition,
        "known": limit.known,
        "source": limit.source,
    }


def _checks(checks: Iterable[Check]) -> list[dict[str, Any]]:
    return [_check(check) for check in checks]


def _check(check: Check) -> dict[str, Any]:
    limits = []
    for limit in check.limits:
        limits.append(_limit(limit))
    return {
        "what": said(check.what),
        "verdict": check.verdict.value,
        "says": said(check.says),
        "limits": limits,
    }


def _panel(schedule: PanelSchedule) -> dict[str, Any]:
    best = schedule.best
    checks = []
    for check in schedule.checks:
        checks.append(_check(check))
    feeder = []
    for x in schedule.sized:
        feeder.append({"what": said(x.what), "size": x.size, "working": said(x.working)})
    circuits = []
    for branch in schedule.branches:
        circuits.append(_circuit(branch, schedule))
    places = []
    for x in schedule.places:
        places.append({"space": x.slot, "leg": x.leg, "half": x.half, "circuit": x.circuit})
    return {
        "panel": schedule.panel.id,
        "verdict": schedule.verdict.value,
        "leg_a_va": schedule.a_va,
        "leg_b_va": schedule.b_va,
        "free_spaces": schedule.free,
        "checks": checks,
        "feeder": feeder,
        "circuits": circuits,
        "places": places,
        "best": {
            "imbalance_va": best.imbalance_va,
            "moved": list(best.moved),
            "fewest_moves_proven": best.fewest_moves_proven,
            "to_spaces": {name: list(spaces) for name, spaces in schedule.best_places.items()},
            "proof": said(best.proof),
        }
        if best
        else None,
    }


def _circuit(branch: Branch, schedule: PanelSchedule) -> dict[str, Any]:
    circuit = branch.circuit
    checks = []
    for check in branch.checks:
        checks.append(_check(check))
    return {
        "circuit": circuit.id,
        "name": circuit.name,
        "directory": said(schedule.directory[circuit.id]),
        "breaker_a": circuit.breaker_a,
        "poles": circuit.poles,
        "spaces": list(circuit.slots),
        "verdict": branch.verdict.value,
        "volts": branch.volts,
        "connected_va": branch.connected_va,
        "demand_a": round(branch.demand_a, 2),
        "load": said(branch.load_words),
        "awg": branch.awg,
        "ampacity_a": branch.derated_a,
        "ampacity": said(branch.derate_words),
        "farthest_mm": branch.run_mm,
        "drop_percent": round(branch.drop.percent, 3) if branch.drop else None,
        "drop": said(branch.drop.working) if branch.drop else None,
        "checks": checks,
    }


def _breakers(lines: Iterable[Breaker]) -> list[dict[str, Any]]:
    return [_breaker(line) for line in lines]


def _breaker(line: Breaker) -> dict[str, Any]:
    return {
        "circuit": line.circuit,
        "name": line.name,
        "breaker": said(line.breaker),
        "spaces": said(line.spaces),
        "legs": said(line.legs),
        "amps": None if line.amps is None else round(line.amps, 2),
        "feeds": said(line.feeds),
    }

"""The plan of a house on the page of its job: a storey with what is open in its place."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, JsonResponse
from django.utils.safestring import mark_safe
from django.utils.translation import get_language
from django.views.decorators.http import require_GET

from config.languages import imperial_units, say
from inspections.checker.finding import Verdict
from inspections.drawing.geometry import storeys_drawn
from inspections.drawing.marks import Mark, MarkKind
from inspections.drawing.runs import runs_of
from inspections.drawing.storey_drawn import StoreyDrawn
from inspections.drawing.storey_plan import PlanLine
from inspections.houses.circuits import circuits_of
from inspections.models import HouseRevision
from inspections.overview.line_states import LineState, line_state
from inspections.selectors import ChecklistLine, house_of, job_read, latest_revision
from jobs.requests import SignedIn
from pages.jobs.plans_kept import PlanWanted, drawn, marked
from pages.jobs.room_rows import NumberedLine
from pages.responses import found_or_404, site_only


def plan_of(
    revision: HouseRevision | None,
    request: HttpRequest,
    lines: Sequence[ChecklistLine],
    numbered: Iterable[NumberedLine],
) -> dict[str, object]:
    """The storeys that can be drawn, and the plan of the one that the address asks for."""
    if revision is None:
        return {}
    insulation = revision.job.insulation_choices.last()
    known = marked(revision, insulation)
    if not known.storeys:
        return {}
    chosen = known.storeys[0]
    for each in known.storeys:
        if each.id == request.GET.get("storey"):
            chosen = each
    wanted = PlanWanted(
        chosen.id,
        tuple(_plan_lines(numbered, known.marks)),
        tuple(_states(lines).items()),
        get_language() or "en",
        imperial_units(),
    )
    plan = mark_safe(drawn(revision, insulation, wanted))  # noqa: S308, ElementTree escaped it
    return {"storeys": known.storeys, "storey": chosen, "plan": plan}


def _plan_lines(numbered: Iterable[NumberedLine], marks: Mapping[str, Mark]) -> list[PlanLine]:
    """What is open, on the plan; what the house of today does not say is in its room."""
    found: list[PlanLine] = []
    for each in numbered:
        if each.number is None:
            continue
        item = each.line.item
        key = f"{item.rule}:{item.subject}"
        mark = marks.get(key) or Mark(key, str(item.finding["room"]), MarkKind.ROOM)
        state = Verdict(each.state)
        found.append(PlanLine(each.number, mark, state, _figure(item.finding)))
    return sorted(found, key=lambda line: line.number)


def _figure(finding: Mapping[str, Any]) -> str:
    return say(finding.get("figure") or "")


def _states(lines: Iterable[ChecklistLine]) -> dict[str, Verdict]:
    """The worst state of the lines of each room."""
    order = list(LineState)
    worst: dict[str, LineState] = {}
    for line in lines:
        room, state = str(line.item.finding["room"]), line_state(line)
        if room not in worst or order.index(state) < order.index(worst[room]):
            worst[room] = state
    states: dict[str, Verdict] = {}
    for room, state in worst.items():
        states[room] = Verdict(state)
    return states


@login_required
@require_GET
def job_runs(request: SignedIn, job_id: UUID) -> JsonResponse:
    """The runs of each circuit on a storey, with what is on it: drawn when somebody taps a box."""
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    revision = latest_revision(job)
    runs: list[dict[str, object]] = []
    if revision is None:
        return JsonResponse(runs, safe=False)
    house, _ = house_of(revision)
    named = {}
    for circuit in circuits_of(revision):
        named[circuit.id] = circuit.label
    for storey in storeys_drawn(house):
        if storey.id == request.GET.get("storey"):
            for run in runs_of(StoreyDrawn(house, storey.id)).values():
                words = named.get(run.circuit, run.circuit)
                runs.append({"words": words, "path": run.path, "nodes": run.nodes})
    return JsonResponse(runs, safe=False)

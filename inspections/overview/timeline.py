"""The history of an area as a person reads it: what happened there, when, and who says so."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from inspections.checker.stored_finding import in_english
from inspections.conclusions.areas import today_at
from inspections.models import (
    Acceptance,
    CoverRelease,
    DeficiencyPhotograph,
    HouseRevision,
    InspectionEvent,
    Observation,
    Photograph,
    TradeReport,
)
from inspections.overview.inspections import event_words
from jobs.models import Area, Person

SYSTEM = "Studbay"


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that happened in an area."""

    at: datetime
    what: str
    by: str
    weighty: bool = False
    """Whether it decides about the cover: an answer, a cover release, a deficiency."""


def area_timeline(area: Area) -> list[Happened]:
    """Everything on record about an area, the earliest first."""
    found = [
        *_revisions(area),
        *_observations(area),
        *_photographs(area),
        *_inspections(area),
        *_answers(area),
        *_deficiencies(area),
        *_trades(area),
        *_cover_releases(area),
    ]
    return sorted(found, key=lambda each: each.at)


def _revisions(area: Area) -> Iterator[Happened]:
    for each in HouseRevision.objects.filter(job=area.job_id).select_related("recorded_by"):
        why = ""
        if each.why:
            why = f": {each.why}"
        what = f"The house was recorded, revision {each.number}{why}."
        yield Happened(each.recorded_at, what, str(each.recorded_by))


SEEN_WORDS = {"pass": "Passed", "fail": "Failed", "absent": "Not seen"}


def _observations(area: Area) -> Iterator[Happened]:
    """What one person saw with one outcome on one day, as one line."""
    seen = Observation.objects.filter(item__area=area).select_related("seen_by", "item")

    def alike(each: Observation) -> tuple[str, str, str]:
        return str(today_at(area.job, each.seen_at)), str(each.seen_by), each.outcome

    for (_, by, outcome), group in groupby(seen.order_by("seen_at", "id"), alike):
        looks = list(group)
        titles = dict.fromkeys(in_english(each.item.finding["title"]) for each in looks)
        word = SEEN_WORDS[outcome]
        items = "items"
        if len(looks) == 1:
            items = "item"
        notes = "".join(f" \u201c{each.note}\u201d" for each in looks if each.note)
        what = f"{word} on site, {len(looks)} {items}: {', '.join(titles)}.{notes}"
        yield Happened(looks[0].seen_at, what, by)


def _photographs(area: Area) -> Iterator[Happened]:
    for each in Photograph.objects.filter(item__area=area).select_related("item", "taken_by"):
        finding = each.item.finding
        title, where = in_english(finding["title"]), in_english(finding["where"])
        what = f"Photographed: {title}, {where}."
        yield Happened(each.recorded_at, what, str(each.taken_by))
    of_deficiencies = DeficiencyPhotograph.objects.filter(deficiency__area=area)
    for called in of_deficiencies.select_related("deficiency", "taken_by"):
        what = f"Photographed {called.get_moment_display()}: {called.deficiency.what}."
        yield Happened(called.recorded_at, what, str(called.taken_by))


def _inspections(area: Area) -> Iterator[Happened]:
    for inspection in area.inspections.select_related("asked_by"):
        kind = inspection.get_kind_display()
        insisted = ""
        if inspection.insisted:
            insisted = ", although items were open"
        yield Happened(
            inspection.asked_at,
            f"A {kind} visit was asked for{insisted}.",
            str(inspection.asked_by),
        )
    events = InspectionEvent.objects.filter(inspection__areas=area)
    for event in events.select_related("inspection", "recorded_by"):
        kind = event.inspection.get_kind_display().capitalize()
        what = f"{kind} visit {event_words(event, area.job)}."
        yield Happened(event.recorded_at, what, str(event.recorded_by))


def _answers(area: Area) -> Iterator[Happened]:
    for each in Acceptance.objects.filter(area=area).select_related("recorded_by"):
        signed = ""
        if each.declared_by:
            signed = f", signed by {each.declared_by}"
        what = (
            f"{each.get_answer_display().capitalize()}: {each.get_basis_display()}, "
            f"reference {each.reference}{signed}."
        )
        yield Happened(each.recorded_at, what, str(each.recorded_by), weighty=True)


def _deficiencies(area: Area) -> Iterator[Happened]:
    for each in area.deficiencies.select_related("corrected_by"):
        section = ""
        if each.section:
            section = f" ({each.section})"
        due = ""
        if each.due_on:
            due = f", due {each.due_on}"
        called = f"Deficiency called: {each.what}{section}{due}."
        yield Happened(each.called_at, called, "the inspector", weighty=True)
        if each.corrected_at:
            yield Happened(each.corrected_at, f"Mended: {each.what}.", str(each.corrected_by))
        if each.accepted_at:
            accepted = f"Accepted as mended: {each.what}."
            yield Happened(each.accepted_at, accepted, "the inspector", weighty=True)


def _trades(area: Area) -> Iterator[Happened]:
    reports = TradeReport.objects.filter(job=area.job_id).select_related("recorded_by")
    for each in reports:
        if each.area_id in (None, area.id):
            done = "not done"
            if each.done:
                done = "done"
            yield Happened(
                each.recorded_at,
                f"{each.trade.capitalize()} reported {done}.",
                str(each.recorded_by),
            )


def _cover_releases(area: Area) -> Iterator[Happened]:
    found = CoverRelease.objects.filter(area=area)
    people = ("issued_by", "withdrawn_by", "withdrawal_answer__recorded_by")
    for each in found.select_related(*people):
        issued = f"Cleared for cover, reference {each.reference}."
        yield Happened(each.issued_at, issued, str(each.issued_by), weighty=True)
        if each.withdrawn_at:
            withdrawn = f"Clearance withdrawn: {each.withdrawn_because}"
            yield Happened(each.withdrawn_at, withdrawn, _who(each.withdrawn_by), weighty=True)
        if answer := each.answer:
            again = ""
            if answer.inspect_again:
                again = " It is to be inspected again."
            what = f"Withdrawal answered: “{answer.says}”.{again}"
            yield Happened(answer.recorded_at, what, str(answer.recorded_by), weighty=True)


def _who(person: Person | None) -> str:
    if person:
        return str(person)
    return SYSTEM

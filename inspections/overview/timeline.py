"""The history of an area as a person reads it: what happened there, when, and who says so."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from config.languages.own_words import Typed
from config.messages.kept import message_of
from config.messages.message import Joined, Message, Text, Value
from inspections.conclusions.areas import today_at
from inspections.models import (
    Acceptance,
    CoverRelease,
    Deficiency,
    DeficiencyPhotograph,
    Given,
    HouseRevision,
    InspectionEvent,
    Observation,
    Photograph,
    TradeReport,
)
from inspections.overview import timeline_messages as words
from inspections.overview.inspections import event_words
from inspections.standing.authority_messages import CANADA, ground_shown, result_shown
from inspections.standing.inspection_messages import inspection_kind, trade_name
from jobs.models import Area, Person

SYSTEM = "Studbay"


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that happened in an area."""

    at: datetime
    what: Value
    by: Value
    """A name, or what stands in for one."""
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
        what = words.HOUSE(number=str(each.number))
        if each.why:
            what = words.HOUSE_WHY(number=str(each.number), why=each.why)
        yield Happened(each.recorded_at, what, _who(each.recorded_by))


def _observations(area: Area) -> Iterator[Happened]:
    """What one person saw with one outcome on one day, given in one way, as one line."""
    seen = Observation.objects.filter(item__area=area).select_related("seen_by", "item")

    def alike(each: Observation) -> tuple[date, str, str, str]:
        return today_at(area.job, each.seen_at), str(each.seen_by), each.given, each.outcome

    for (_, by, given, outcome), group in groupby(seen.order_by("seen_at", "id"), alike):
        looks = list(group)
        says = words.SEEN[outcome]
        if given == Given.ROOM:
            says = words.ROOM_CHECK
        yield Happened(looks[0].seen_at, _looks(looks, says), Typed(by))


def _looks(looks: list[Observation], seen: Message) -> Value:
    titles = dict.fromkeys(message_of(each.item.finding["title"]) for each in looks)
    says: list[Value] = [seen(n=len(looks), titles=Joined(tuple(titles), ", "))]
    # What was said of a whole room is said once.
    for note in dict.fromkeys(each.note for each in looks):
        if note:
            says.append(words.NOTE(note=note))
    return Joined(tuple(says))


def _photographs(area: Area) -> Iterator[Happened]:
    for each in Photograph.objects.filter(item__area=area).select_related("item", "taken_by"):
        finding = each.item.finding
        title, where = message_of(finding["title"]), message_of(finding["where"])
        yield Happened(each.recorded_at, words.PHOTO(title=title, place=where), _who(each.taken_by))
    of_deficiencies = DeficiencyPhotograph.objects.filter(deficiency__area=area)
    for taken in of_deficiencies.select_related("deficiency", "taken_by"):
        what = words.PHOTO_MOMENTS[taken.moment](what=taken.deficiency.what)
        yield Happened(taken.recorded_at, what, _who(taken.taken_by))


def _inspections(area: Area) -> Iterator[Happened]:
    for inspection in area.inspections.select_related("asked_by"):
        requested = words.REQUESTED
        if inspection.insisted:
            requested = words.REQUESTED_OPEN
        what = requested(inspection=inspection_kind(inspection.kind))
        yield Happened(inspection.asked_at, what, _who(inspection.asked_by))
    events = InspectionEvent.objects.filter(inspection__areas=area)
    for event in events.select_related("inspection", "recorded_by"):
        kind = inspection_kind(event.inspection.kind)
        what = words.EVENT(inspection=kind, what=event_words(event, area.job))
        yield Happened(event.recorded_at, what, _who(event.recorded_by))


def _answers(area: Area) -> Iterator[Happened]:
    country = area.job.authority.country or CANADA
    for each in Acceptance.objects.filter(area=area).select_related("recorded_by"):
        answer, basis = result_shown(each.answer, country), ground_shown(each.basis)
        what = words.ANSWERED(answer=answer, basis=basis, reference=each.reference)
        if each.declared_by:
            what = words.ANSWERED_SIGNED(
                answer=answer, basis=basis, reference=each.reference, person=each.declared_by
            )
        yield Happened(each.recorded_at, what, _who(each.recorded_by), weighty=True)


def _deficiencies(area: Area) -> Iterator[Happened]:
    for each in area.deficiencies.select_related("corrected_by"):
        yield Happened(each.called_at, _written_up(each), words.INSPECTOR(), weighty=True)
        if each.corrected_at:
            what = words.CORRECTED(what=each.what)
            yield Happened(each.corrected_at, what, _who(each.corrected_by))
        if each.accepted_at:
            accepted = words.CORRECTION_ACCEPTED(what=each.what)
            yield Happened(each.accepted_at, accepted, words.INSPECTOR(), weighty=True)


def _written_up(deficiency: Deficiency) -> Value:
    """What the inspector wrote up, by which section and until when."""
    what: Text | str = deficiency.what
    if deficiency.section:
        what = words.SECTION(what=deficiency.what, section=deficiency.section)
    written_up = words.WRITTEN_UP(what=what)
    if deficiency.due_on:
        return Joined((written_up, words.DUE(day=deficiency.due_on)))
    return written_up


def _trades(area: Area) -> Iterator[Happened]:
    reports = TradeReport.objects.filter(job=area.job_id).select_related("recorded_by")
    for each in reports:
        if each.area_id in (None, area.id):
            says = words.TRADE_UNDONE
            if each.done:
                says = words.TRADE_DONE
            what = says(trade=trade_name(each.trade))
            yield Happened(each.recorded_at, what, _who(each.recorded_by))


def _cover_releases(area: Area) -> Iterator[Happened]:
    found = CoverRelease.objects.filter(area=area)
    people = ("issued_by", "withdrawn_by", "withdrawal_answer__recorded_by")
    for each in found.select_related(*people):
        issued = words.RELEASED(reference=each.reference)
        yield Happened(each.issued_at, issued, _who(each.issued_by), weighty=True)
        if each.withdrawn_at:
            withdrawn = words.WITHDRAWN(because=message_of(each.because))
            yield Happened(each.withdrawn_at, withdrawn, _who(each.withdrawn_by), weighty=True)
        if answer := each.answer:
            what: Value = words.WITHDRAWAL_ANSWERED(says=answer.says)
            if answer.inspect_again:
                what = Joined((what, words.INSPECT_AGAIN()))
            yield Happened(answer.recorded_at, what, _who(answer.recorded_by), weighty=True)


def _who(person: Person | None) -> str:
    if person:
        return Typed(person)
    return SYSTEM

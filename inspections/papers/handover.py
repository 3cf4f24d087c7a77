"""The owner's sheet: what was accepted, by what reference, and what to test and where."""

from collections.abc import Iterator

from config.languages.own_words import Typed
from config.messages.message import Amperes, Value
from inspections.checker.house import House
from inspections.checker.house.nouns import noun
from inspections.conclusions.areas import today_at
from inspections.loads.check_messages import BREAKER
from inspections.models import Acceptance, Answer, HouseRevision, JobAnswer
from inspections.papers import site_messages as says
from inspections.papers.report.as_text import CAUTION
from inspections.papers.report.document import Document, DocumentRow, Section
from inspections.selectors import house_of
from inspections.standing.inspection_messages import inspection_kind
from jobs.models import Job, Permit

WIDE = (0.44, 0.28, 0.28)
ALARMS = ("smoke_alarm", "co_alarm", "combined_alarm")


def handover_sheet(job: Job, revision: HouseRevision) -> Document:
    """What the owner of a finished house keeps."""
    house, rulebook = house_of(revision)
    sections = [
        Section(
            says.ACCEPTANCE(),
            (says.WHAT(), says.WHEN(), says.REFERENCE()),
            tuple(_accepted(job)),
            WIDE,
        ),
        Section(
            says.ALARMS(),
            (says.ALARM(), says.ROOM(), says.ON_CIRCUIT()),
            tuple(_alarms(house)),
            WIDE,
        ),
        Section(
            says.TO_TEST(),
            (says.WHAT(), says.WHERE(), says.PROTECTS()),
            tuple(_tests(house)),
            WIDE,
        ),
        Section(
            says.CIRCUITS(),
            (says.CIRCUIT(), says.BREAKER_COLUMN(), says.SPACES()),
            tuple(_circuits(house)),
            WIDE,
        ),
        Section(says.CARE_HEADING(), (), tuple(_care()), (0.06, 0.94)),
    ]
    permit = Permit.objects.filter(job=job).first()
    closed = permit is not None and permit.closed_on is not None
    told, verdict = says.NOT_CLOSED(), "info_needed"
    if closed:
        told, verdict = says.CLOSED(), "ok"
    return Document(
        says.OWNER(), job.name, rulebook.title, verdict, told, tuple(sections), (CAUTION,)
    )


def _care() -> Iterator[DocumentRow]:
    for number, each in enumerate(says.CARE, 1):
        yield DocumentRow((number, each()))


def _accepted(job: Job) -> Iterator[DocumentRow]:
    permit = Permit.objects.filter(job=job).first()
    if permit:
        issued: Value = says.NOT_ISSUED()
        if permit.issued_on:
            issued = says.on(permit.issued_on)
        yield DocumentRow((says.PERMIT(), issued, _reference(permit.number)))
    yield from _answers(job)
    if permit and permit.closed_on:
        yield DocumentRow(
            (says.PERMIT_CLOSED(), says.on(permit.closed_on), _reference(permit.number))
        )


def _reference(number: str) -> Value:
    """A number of the authority's as it was typed."""
    if number:
        return Typed(number)
    return says.NOTHING()


def _answers(job: Job) -> Iterator[DocumentRow]:
    """The areas that the authority accepted, then its inspections for the job as a whole."""
    given = Acceptance.objects.filter(area__job=job, answer=Answer.ACCEPTED)
    for each in given.select_related("area"):
        when = says.on(today_at(job, each.recorded_at))
        accepted = says.AREA_ACCEPTED(area=each.area.name)
        yield DocumentRow((accepted, when, _reference(each.reference)))
    answers = JobAnswer.objects.filter(inspection__job=job, answer=Answer.ACCEPTED)
    for answer in answers.select_related("inspection"):
        when = says.on(today_at(job, answer.recorded_at))
        kind = inspection_kind(answer.inspection.kind)
        accepted = says.INSPECTION_ACCEPTED(inspection=kind)
        yield DocumentRow((accepted, when, _reference(answer.reference)))


def _alarms(house: House) -> Iterator[DocumentRow]:
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    for box in house.boxes:
        for device in box.devices:
            if device.kind in ALARMS:
                alarm = says.BOX_ALARM(box=box.name or box.id, alarm=noun(device.kind))
                circuit: Value = says.BY_CABLE()
                if device.circuit:
                    circuit = Typed(device.circuit)
                yield DocumentRow((alarm, Typed(rooms[box.room]), circuit))


def _tests(house: House) -> Iterator[DocumentRow]:
    for circuit in house.circuits:
        if circuit.protection:
            where = says.IN_PANEL(panel=circuit.panel, circuit=circuit.id)
            against = says.AGAINST[circuit.protection]()
            yield DocumentRow((Typed(circuit.name), where, against))
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    for box in house.boxes:
        for device in box.devices:
            if device.protection:
                against = says.AGAINST[device.protection]()
                named = Typed(box.name or box.id)
                yield DocumentRow((named, Typed(rooms[box.room]), against))


def _circuits(house: House) -> Iterator[DocumentRow]:
    for circuit in house.circuits:
        slots: Value = says.NO_SPACE()
        if circuit.slots:
            slots = Typed(", ".join(map(str, circuit.slots)))
        breaker = BREAKER(amps=Amperes(circuit.breaker_a), poles=circuit.poles)
        yield DocumentRow((Typed(f"{circuit.id}: {circuit.name}"), breaker, slots))

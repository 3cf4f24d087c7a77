"""The owner's sheet: what was accepted, by what reference, and what to test and where."""

from collections.abc import Iterator

from config.languages.own_words import Typed
from inspections.checker.house import House
from inspections.checker.house.power import Protection
from inspections.conclusions.areas import today_at
from inspections.models import Acceptance, Answer, HouseRevision, JobAnswer
from inspections.papers.report.as_text import CAUTION
from inspections.papers.report.document import Document, DocumentRow, Section
from inspections.selectors import house_of
from jobs.models import Job, Permit

WIDE = (0.44, 0.28, 0.28)
AGAINST = {
    Protection.GFCI: "against ground faults",
    Protection.AFCI: "against arcs",
    Protection.DUAL: "against ground faults and arcs",
}
ALARMS = ("smoke_alarm", "co_alarm", "combined_alarm")
CARE = (
    "Press the test button of every alarm each month; replace an alarm by the date printed on it.",
    "Press the test button of every ground-fault and arc-fault breaker and receptacle each month.",
    "Work on this wiring is for licensed people; switch off, lock out and test first.",
)
"""Common practice, no source; what makers print on their products goes before it."""


def handover_sheet(job: Job, revision: HouseRevision) -> Document:
    """What the owner of a finished house keeps."""
    house, rulebook = house_of(revision)
    sections = [
        Section(
            "Permit and acceptance", ("what", "when", "reference"), tuple(_accepted(job)), WIDE
        ),
        Section("Alarms", ("alarm", "room", "on circuit"), tuple(_alarms(house)), WIDE),
        Section("To test", ("what", "where", "protects"), tuple(_tests(house)), WIDE),
        Section("Circuits", ("circuit", "breaker", "spaces"), tuple(_circuits(house)), WIDE),
        Section("Care", (), tuple(_care()), (0.06, 0.94)),
    ]
    permit = Permit.objects.filter(job=job).first()
    closed = permit is not None and permit.closed_on is not None
    says, verdict = "The permit is not closed yet.", "unknown"
    if closed:
        says, verdict = "The permit is closed.", "meets"
    return Document(
        "Owner's sheet", job.name, rulebook.title, verdict, says, tuple(sections), (CAUTION,)
    )


def _care() -> Iterator[DocumentRow]:
    for number, each in enumerate(CARE, 1):
        yield DocumentRow((str(number), each))


def _accepted(job: Job) -> Iterator[DocumentRow]:
    permit = Permit.objects.filter(job=job).first()
    if permit:
        issued = "not issued"
        if permit.issued_on:
            issued = permit.issued_on.isoformat()
        yield DocumentRow(("Electrical permit", issued, Typed(permit.number) or "none"))
    yield from _answers(job)
    if permit and permit.closed_on:
        yield DocumentRow(
            ("Permit closed", permit.closed_on.isoformat(), Typed(permit.number) or "none")
        )


def _answers(job: Job) -> Iterator[DocumentRow]:
    """The areas that the authority accepted, then its inspections for the job as a whole."""
    given = Acceptance.objects.filter(area__job=job, answer=Answer.ACCEPTED)
    for each in given.select_related("area"):
        when = today_at(job, each.recorded_at).isoformat()
        yield DocumentRow(
            (f"Area accepted: {each.area.name}", when, Typed(each.reference) or "none")
        )
    answers = JobAnswer.objects.filter(inspection__job=job, answer=Answer.ACCEPTED)
    for answer in answers.select_related("inspection"):
        when = today_at(job, answer.recorded_at).isoformat()
        kind = answer.inspection.get_kind_display().capitalize()
        yield DocumentRow((f"{kind} accepted", when, Typed(answer.reference) or "none"))


def _alarms(house: House) -> Iterator[DocumentRow]:
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    for box in house.boxes:
        for device in box.devices:
            if device.kind in ALARMS:
                kind = device.kind.value.replace("_", " ")
                circuit = device.circuit or "by its cable"
                yield DocumentRow(
                    (f"{box.name or box.id}: {kind}", Typed(rooms[box.room]), circuit)
                )


def _tests(house: House) -> Iterator[DocumentRow]:
    for circuit in house.circuits:
        if circuit.protection:
            where = f"panel {circuit.panel}, circuit {circuit.id}"
            yield DocumentRow((Typed(circuit.name), where, AGAINST[circuit.protection]))
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    for box in house.boxes:
        for device in box.devices:
            if device.protection:
                yield DocumentRow(
                    (Typed(box.name or box.id), Typed(rooms[box.room]), AGAINST[device.protection])
                )


def _circuits(house: House) -> Iterator[DocumentRow]:
    for circuit in house.circuits:
        slots = ", ".join(map(str, circuit.slots)) or "not recorded"
        breaker = f"{circuit.breaker_a:g} A, {circuit.poles}-pole"
        yield DocumentRow((Typed(f"{circuit.id}: {circuit.name}"), breaker, slots))

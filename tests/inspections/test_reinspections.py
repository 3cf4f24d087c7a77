"""An inspection that did not end in acceptance is to be asked for again, with its fee."""

import pytest
from django.core.exceptions import ValidationError

from config.languages import say
from inspections.models import Answer, Happening, InspectionKind, JobAnswer
from inspections.overview.progress import job_moves
from inspections.overview.reinspections import Reinspection, reinspections
from inspections.selectors import inspections_of
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.settling import job_settle
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db


def asked_again(job) -> list[Reinspection]:
    return reinspections(job, inspections_of(job))


@pytest.fixture
def job(shop):
    shop.authority.reinspection_fee = "85.00"
    shop.authority.save()
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def east(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


@pytest.fixture
def west(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="west")


def fail(shop, *areas):
    inspection = shop.booked(*areas, insist=True)
    return inspection_answer(
        shop.office,
        inspection=inspection,
        answers=dict.fromkeys(areas, Answer.NOT_ACCEPTED),
        reference="R1",
        called=[Called(areas[0], "no plate")],
    )


def test_a_failed_inspection_is_to_be_made_again_and_costs_its_fee(shop, job, east, west) -> None:
    inspection = fail(shop, east, west)
    (again,) = asked_again(job)
    assert (again.inspection, again.fee, again.corrected) == (inspection, "85.00", False)
    assert say(again.what, "en") == "rough-in inspection (East and West)"
    job_settle(job.id)
    job.refresh_from_db()
    said = "request another rough-in inspection (East and West) once it is corrected (fee 85.00)"
    assert said in [say(move.what, "en") for move in job_moves(job)]


def test_it_tells_when_everything_called_is_corrected(shop, job, east) -> None:
    fail(shop, east)
    deficiency_correct(shop.lead, deficiency=job.deficiencies.get())
    assert [again.corrected for again in asked_again(job)] == [True]


def test_only_what_was_not_accepted_is_inspected_again(shop, job, east, west) -> None:
    inspection = shop.booked(east, west, insist=True)
    answers = {east: Answer.ACCEPTED, west: Answer.NOT_ACCEPTED}
    inspection_answer(shop.office, inspection=inspection, answers=answers, reference="R1")
    assert [say(again.what, "en") for again in asked_again(job)] == ["rough-in inspection (West)"]


def test_asking_again_ends_it_and_cancelling_brings_it_back(shop, job, east) -> None:
    fail(shop, east)
    given = {"job": job, "kind": InspectionKind.COVER_UP, "areas": [east], "insist": True}
    inspection = inspection_ask(shop.office, **given)
    assert asked_again(job) == []
    inspection_happen(shop.office, inspection=inspection, happening=Happening.CANCELLED)
    assert [say(again.what, "en") for again in asked_again(job)] == ["rough-in inspection (East)"]


def test_an_accepted_inspection_is_not_made_again(shop, job, east) -> None:
    shop.look_at(east)
    shop.accept(east)
    assert asked_again(job) == []


def test_a_final_that_failed_is_of_the_job_as_a_whole(shop, job, east) -> None:
    inspection = shop.booked(east, kind=InspectionKind.FINAL)
    inspection_answer(
        shop.office,
        inspection=inspection,
        answer=Answer.NOT_ACCEPTED,
        reference="F1",
        called=[Called(east, "a plate")],
    )
    assert shop.own(JobAnswer).get().answer == Answer.NOT_ACCEPTED
    assert [say(again.what, "en") for again in asked_again(job)] == ["final inspection"]
    deficiency_correct(shop.lead, deficiency=job.deficiencies.get())
    accepted = shop.booked(east, kind=InspectionKind.FINAL)
    inspection_answer(
        shop.office,
        inspection=accepted,
        answer=Answer.ACCEPTED,
        reference="F2",
        lifted=list(job.deficiencies.all()),
    )
    assert asked_again(job) == []


@pytest.mark.parametrize(
    ("kind", "given", "words"),
    [
        (InspectionKind.FINAL, {}, "one result for the whole job"),
        (InspectionKind.FINAL, {"answers": Answer.ACCEPTED}, "one result for the whole job"),
        (InspectionKind.FINAL, {"answer": Answer.WITH_DEFICIENCIES}, "what the deficiencies are"),
        (InspectionKind.ROUGH_IN, {"answer": Answer.ACCEPTED}, "a result for each area"),
        (
            InspectionKind.ROUGH_IN,
            {"answers": Answer.ACCEPTED, "answer": Answer.ACCEPTED},
            "a result for each area",
        ),
    ],
)
def test_an_answer_of_the_wrong_reach_is_refused(shop, job, east, kind, given, words) -> None:
    inspection = shop.booked(east, kind=kind, insist=True)
    if "answers" in given:
        given = given | {"answers": {east: given["answers"]}}
    with pytest.raises(ValidationError, match=words):
        inspection_answer(shop.office, inspection=inspection, reference="R1", **given)
    assert not shop.own(JobAnswer).exists()
    assert inspection.events.last().happening == Happening.BOOKED


def test_a_deficiency_at_a_final_belongs_to_the_inspections_own_job(shop, job, east) -> None:
    other = shop.job("Lot 16")
    inspection = shop.booked(east, kind=InspectionKind.FINAL)
    stray = Called(east, "a plate")
    inspection.job = other
    with pytest.raises(ValidationError, match="area of the inspected job"):
        inspection_answer(
            shop.office,
            inspection=inspection,
            reference="F1",
            answer=Answer.NOT_ACCEPTED,
            called=[stray],
        )

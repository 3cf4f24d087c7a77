"""Facts that cannot both be true are refused when they are given, with nothing written."""

import json
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from config.languages import say
from inspections.models import (
    Acceptance,
    Answer,
    AreaStanding,
    Deficiency,
    Happening,
    InspectionKind,
    JobAnswer,
    Outcome,
)
from inspections.selectors import latest_revision
from inspections.services.acceptances import acceptance_elapse
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct
from inspections.services.inspections import inspection_happen
from inspections.services.observations import item_observe
from inspections.services.permits import (
    permit_amend,
    permit_apply,
    permit_close,
    permit_extend,
    permit_issue,
)
from inspections.services.site_changes import site_change_accept, site_change_record
from inspections.standing.contradictions import (
    AnswerGiven,
    DeficiencyFacts,
    Spoken,
    Word,
    of_answer,
)
from jobs.models import Permit
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
ACCEPTED, WITH, NOT = Answer.ACCEPTED, Answer.WITH_DEFICIENCIES, Answer.NOT_ACCEPTED


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def east(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


@pytest.fixture
def west(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="west")


def answered(shop, inspection, reference="R1", **given: Any) -> None:
    inspection_answer(shop.office, inspection=inspection, reference=reference, **given)


def refused(shop, inspection, words: str, **given: Any) -> None:
    """It is refused in those words, and nothing of it is written."""
    counted = (Acceptance, JobAnswer, Deficiency)
    before = [
        inspection.job.record.count(),
        inspection.events.count(),
        *(k.objects.count() for k in counted),
    ]
    with pytest.raises(ValidationError, match=words):
        answered(shop, inspection, **given)
    after = [
        inspection.job.record.count(),
        inspection.events.count(),
        *(k.objects.count() for k in counted),
    ]
    assert after == before


def called_before(shop, area, what="no plate", *, corrected: bool = True) -> Deficiency:
    """A deficiency of an earlier inspection."""
    shop.look_at(area)
    shop.accept(area, NOT, "R0", called=(what,))
    deficiency = area.deficiencies.get(what=what)
    return deficiency_correct(shop.lead, deficiency=deficiency) if corrected else deficiency


def test_accepted_with_a_deficiency_in_that_area_is_refused(shop, east, west) -> None:
    inspection = shop.booked(east, west, insist=True)
    plate = [Called(east, "no plate")]
    words = "East: deficiencies are written up, so the inspector did not accept all of it"
    refused(shop, inspection, words, answers={east: ACCEPTED, west: ACCEPTED}, called=plate)
    refused(
        shop, inspection, "West: enter what the deficiencies are", answers={east: NOT, west: WITH}
    )
    answered(shop, inspection, answers={east: WITH, west: ACCEPTED}, called=plate)
    assert east.deficiencies.count() == 1


def test_two_areas_of_one_name_are_two_areas(shop, job, east, west) -> None:
    job.areas.update(name="Bedroom")
    inspection = shop.booked(east, west, insist=True)
    answered(
        shop, inspection, answers={east: WITH, west: ACCEPTED}, called=[Called(east, "no plate")]
    )
    assert west.acceptances.get().answer == ACCEPTED


def test_an_answer_for_the_job_as_a_whole_contradicts_itself_no_more(shop, east) -> None:
    inspection = shop.booked(east, kind=InspectionKind.SERVICE)
    plate = [Called(east, "no plate")]
    refused(shop, inspection, "Deficiencies are written up", answer=ACCEPTED, called=plate)
    refused(shop, inspection, "Enter what the deficiencies are", answer=WITH)
    answered(shop, inspection, answer=WITH, called=plate)


def test_a_deficiency_belongs_to_an_area_of_the_inspection(shop, east, west) -> None:
    inspection = shop.booked(east, insist=True)
    words = "The inspection was not for West"
    refused(shop, inspection, words, answers={east: NOT}, called=[Called(west, "no plate")])


@pytest.mark.parametrize("again", ["no plate", " No  plate.", "NO PLATE"])
def test_what_is_accepted_is_not_written_up_again_at_the_same_inspection(shop, east, again) -> None:
    deficiency = called_before(shop, east)
    inspection = shop.booked(east)
    given = {"answers": {east: WITH}, "lifted": [deficiency], "called": [Called(east, again)]}
    refused(shop, inspection, "marked as accepted and written up again", **given)
    given["called"] = [Called(east, again, where="at the other notch")]
    answered(shop, inspection, **given)
    assert east.deficiencies.filter(accepted_at=None).count() == 1


def test_what_was_accepted_is_not_accepted_twice(shop, east) -> None:
    deficiency = called_before(shop, east)
    answered(shop, shop.booked(east), answers={east: ACCEPTED}, lifted=[deficiency])
    deficiency.refresh_from_db()
    first = deficiency.accepted_at_inspection
    inspection = shop.booked(east)
    words = "accepted at an earlier inspection"
    refused(shop, inspection, words, answers={east: ACCEPTED}, lifted=[deficiency])
    deficiency.refresh_from_db()
    assert deficiency.accepted_at_inspection == first


def test_a_deficiency_of_another_job_is_not_lifted(shop, east, house_bytes) -> None:
    called_before(shop, east)
    other = shop.job("Lot 16")
    inspection = shop.booked(east)
    deficiency = shop.own(Deficiency).get()
    deficiency.job_id = other.id
    refused(shop, inspection, "on another job", answers={east: ACCEPTED}, lifted=[deficiency])


def test_it_is_not_due_before_the_inspection_that_wrote_it_up(shop, east) -> None:
    inspection = shop.booked(east, insist=True)
    late = [Called(east, "no plate", due_on=date(2026, 1, 2))]
    refused(
        shop,
        inspection,
        "is due by Jan 2, 2026, before the inspection",
        answers={east: NOT},
        called=late,
    )


def test_every_contradiction_is_told_at_once() -> None:
    said = AnswerGiven(
        words=[Spoken(Word.ACCEPTED, "a", "Loft"), Spoken(Word.WITH_DEFICIENCIES, "b", "Hall")],
        written_up=[DeficiencyFacts("a", "Loft", "no plate")],
        lifted=[DeficiencyFacts("b", "Hall", "a staple")],
    )
    assert [say(each, "en").split(".")[0] for each in of_answer(said)] == [
        "Loft: deficiencies are written up, so the inspector did not accept all of it",
        "Hall: enter what the deficiencies are",
        "“a staple” is not recorded as corrected on this job",
    ]


def test_what_an_earlier_inspection_wrote_up_is_enough_for_accepted_with(shop, east) -> None:
    called_before(shop, east, corrected=False)
    answered(shop, shop.booked(east), answers={east: WITH})
    assert east.deficiencies.count() == 1


def test_the_authoritys_word_is_its_own_and_the_figures_hold_on(shop, east) -> None:
    shop.look_at(east)
    item_observe(shop.lead, item=east.items.filter(verdict="verify").first(), outcome=Outcome.FIX)
    answered(shop, shop.booked(east, insist=True), answers={east: ACCEPTED})
    holds = {hold["reason"] for hold in AreaStanding.objects.get(area=east).holds}
    assert holds == {"fix"}


def test_an_accepted_answer_of_before_is_held_by_the_deficiency_itself(shop, east) -> None:
    """A row of before such answers were refused."""
    shop.look_at(east)
    inspection = shop.booked(east)
    answered(shop, inspection, answers={east: ACCEPTED})
    given = {"job": east.job, "area": east, "called_at_inspection": inspection, "what": "no plate"}
    Deficiency.objects.create(**given, called_at=inspection.events.last().recorded_at)
    item_observe(shop.lead, item=east.items.filter(verdict="verify").first(), outcome=Outcome.OK)
    holds = {hold["reason"] for hold in AreaStanding.objects.get(area=east).holds}
    assert holds == {"deficiency"}


def test_time_that_passed_counts_no_more_once_the_authority_answered(
    shop, east, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 6, 10, 14, 0, tzinfo=UTC)).put(monkeypatch)
    east.job.authority.elapsed_hours = 24
    missed = shop.booked(east, insist=True)
    clock.now += timedelta(hours=3)
    inspection_happen(shop.office, inspection=missed, happening=Happening.NOBODY_CAME)
    clock.now += timedelta(hours=30)
    answered(shop, shop.booked(east, insist=True), answers={east: NOT}, reference="R9")
    given = {"area": east, "inspection": missed, "reference": "E1", "declared_by": "T. Vale"}
    with pytest.raises(ValidationError, match="newer result, reference R9"):
        acceptance_elapse(shop.office, **given)
    assert east.acceptances.count() == 1


def test_time_that_passed_is_declared_once(shop, east, monkeypatch) -> None:
    clock = Clock(datetime(2026, 6, 10, 14, 0, tzinfo=UTC)).put(monkeypatch)
    east.job.authority.elapsed_hours = 24
    missed = shop.booked(east, insist=True)
    clock.now += timedelta(hours=3)
    inspection_happen(shop.office, inspection=missed, happening=Happening.NOBODY_CAME)
    clock.now += timedelta(hours=30)
    given = {"area": east, "inspection": missed, "reference": "E1", "declared_by": "T. Vale"}
    acceptance_elapse(shop.office, **given)
    recorded = east.job.record.order_by("number").last()
    assert recorded.action == "area accepted: nobody came in the time stated, and the holde"
    with pytest.raises(ValidationError, match="newer result"):
        acceptance_elapse(shop.office, **given)


def test_a_permit_is_what_it_can_be(shop) -> None:
    job = shop.job()
    permit = permit_apply(shop.office, job=job, applied_on=date(2026, 1, 5))
    with pytest.raises(ValidationError, match="already applied for, on Jan 5, 2026"):
        permit_apply(shop.office, job=job, applied_on=date(2026, 2, 5))

    def issue(on: date = date(2026, 1, 12), expires_on: date | None = None) -> Permit:
        return permit_issue(
            shop.office, permit=permit, number="P1", issued_on=on, expires_on=expires_on
        )

    with pytest.raises(
        ValidationError, match=r"applied for on Jan 5, 2026\. Enter an issue date on or after"
    ):
        issue(date(2026, 1, 4))
    with pytest.raises(
        ValidationError, match=r"issued on Jan 12, 2026\. Enter an expiry date on or after"
    ):
        issue(expires_on=date(2026, 1, 11))
    issue()
    with pytest.raises(ValidationError, match="Enter an expiry date on or after"):
        permit_extend(shop.office, permit=permit, expires_on=date(2026, 1, 11))
    closed = permit_close(shop.office, permit=permit, closed_on=date(2026, 3, 1))
    for change in (
        lambda: permit_close(shop.office, permit=closed, closed_on=date(2026, 3, 2)),
        lambda: permit_extend(shop.office, permit=closed, expires_on=date(2027, 1, 1)),
        lambda: permit_amend(shop.office, permit=closed, scope="a shed"),
        issue,
    ):
        with pytest.raises(ValidationError, match=r"closed on Mar 1, 2026\. It can no longer"):
            change()
    assert Permit.objects.get(job=job).closed_on == date(2026, 3, 1)


def test_the_page_takes_a_permit_that_was_issued_before_it_was_recorded(client, shop) -> None:
    job = shop.job()
    client.force_login(shop.office)
    given = {"number": "P1", "issued_on": "2026-01-12"}
    client.post(reverse("permit", args=[job.id]), given)
    permit = Permit.objects.get(job=job)
    assert permit.applied_on == permit.issued_on == date(2026, 1, 12)


def test_a_box_found_where_the_house_says_is_no_site_change(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    box, place = wall_box(job)
    given = {"job": job, "box": box}
    with pytest.raises(ValidationError, match="is where the house has it"):
        site_change_record(shop.lead, **given, site_change_id=uuid4(), at_mm=place["at_mm"])
    site_change_record(shop.lead, **given, site_change_id=uuid4(), at_mm=place["at_mm"] + 50)


def test_of_two_findings_of_one_box_the_later_stands(shop, house_bytes, monkeypatch) -> None:
    clock = Clock(datetime(2026, 6, 10, 14, 0, tzinfo=UTC)).put(monkeypatch)
    job = shop.roughed_in(house_bytes)
    box, place = wall_box(job)
    found = []
    for shift in (40, 80):
        clock.now += timedelta(hours=1)
        given = {"job": job, "box": box, "at_mm": place["at_mm"] + shift}
        found.append(site_change_record(shop.lead, **given, site_change_id=uuid4()))
    site_change_accept(shop.office, site_change=found[1])
    with pytest.raises(ValidationError, match=f"later correction of box {box} is accepted"):
        site_change_accept(shop.office, site_change=found[0])


@pytest.mark.parametrize("face", ["page", "api"])
def test_every_face_refuses_alike(client, shop, east, face) -> None:
    inspection = shop.booked(east, insist=True)
    client.force_login(shop.office)
    if face == "page":
        given = {"answer-east": "accepted", "called-east": "no plate\nno staple", "reference": "R1"}
        text = client.post(reverse("answer", args=[inspection.id]), given, follow=True).text
    else:
        called = [{"area": "east", "what": "no plate"}]
        given = {"reference": "R1", "answers": {"east": "accepted"}, "called": called}
        answer = client.post(f"/api/inspections/{inspection.id}/answer", given, "application/json")
        assert answer.status_code == 422
        text = answer.json()["detail"]
    assert "East: deficiencies are written up, so the inspector did not accept all of it" in text
    assert not shop.own(Acceptance).exists()
    assert inspection.events.last().happening == Happening.BOOKED


def wall_box(job) -> tuple[str, dict[str, Any]]:
    """A box on a wall of the job's latest house, and where the house says it is."""
    boxes = json.loads(sure(latest_revision(job)).house)["boxes"]
    box = next(each for each in boxes if each["place"]["surface"] == "wall")
    return box["id"], box["place"]

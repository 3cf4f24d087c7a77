"""The hookup, the temporary service and the final as they are recorded."""

import json
from datetime import date
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse

from config.languages import say
from inspections.conclusions.areas import finish_items_open
from inspections.houses.circuits import circuits_of
from inspections.models import Answer, InspectionKind, MilestoneReached
from inspections.selectors import latest_revision
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.milestones import milestone_record
from inspections.services.permits import permit_extend
from inspections.services.settling import job_settle
from inspections.standing.stages import Milestone
from notifications.models import Notice
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
NO_RELEASE = "No cover release is on record for East and West."
MARCH, JUNE = date(2026, 3, 2), date(2026, 6, 1)


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def wired(shop, job):
    """The same with a range in spaces 3 and 5."""
    house = json.loads(HOUSES["clean"])
    range_ = {"id": "range", "panel": "P1", "name": "Range", "breaker_a": 40, "poles": 2}
    house["circuits"].append(range_ | {"slots": [3, 5]})
    house_record(shop.lead, job=job, house=json.dumps(house).encode())
    return job


def reach(shop, job, milestone, **given: Any) -> MilestoneReached:
    facts: dict[str, Any] = {"reached_on": MARCH, "reference": "C1"} | given
    if milestone == Milestone.HOOKUP:
        facts = {"circuits": ["1"]} | facts
    return milestone_record(shop.office, job=job, milestone=milestone, **facts)


def refused(shop, job, milestone, words: str, **given: Any) -> None:
    """It is refused in those words, and nothing is written."""
    before = (job.record.count(), shop.own(MilestoneReached).count())
    with pytest.raises(ValidationError, match=words):
        reach(shop, job, milestone, **given)
    assert (job.record.count(), shop.own(MilestoneReached).count()) == before


def test_a_hookup_carries_its_circuits_and_when_the_temporary_service_goes(shop, job) -> None:
    made = reach(shop, job, Milestone.HOOKUP, temporary_until=JUNE)
    assert (made.circuits, made.temporary_until) == (["1"], JUNE)
    assert made.live == [{"id": "1", "panel": "P1", "number": "1", "name": "All"}]


@pytest.mark.parametrize("milestone", list(Milestone))
def test_each_milestone_is_reached_once(shop, job, milestone) -> None:
    reach(shop, job, milestone)
    words = f"“{milestone}” is already recorded for Mar 2, 2026, reference C1."
    refused(shop, job, milestone, words, reference="C2", reached_on=date(2026, 3, 9))


def test_the_final_waits_until_the_temporary_service_is_gone(shop, job) -> None:
    reach(shop, job, Milestone.HOOKUP, temporary_until=JUNE)
    refused(shop, job, Milestone.FINAL, "removal of the temporary service is not recorded yet")
    reach(shop, job, Milestone.TEMPORARY_GONE)
    assert reach(shop, job, Milestone.FINAL).reference == "C1"


@pytest.mark.parametrize(
    ("milestone", "given", "words"),
    [
        (Milestone.HOOKUP, {"reference": " "}, "reference for the hookup"),
        (Milestone.FINAL, {"reference": ""}, "reference for the final"),
        (Milestone.TEMPORARY_GONE, {"circuits": ["1"]}, "Only the hookup has circuits"),
        (Milestone.HOOKUP, {"circuits": []}, "Choose the circuits that may be live"),
        (
            Milestone.HOOKUP,
            {"circuits": ["1", "7", "the kitchen"]},
            r"no circuits 7 and the kitchen. Its circuits are: 1 \(1 All\).",
        ),
        (
            Milestone.HOOKUP,
            {"temporary_until": date(2026, 3, 1)},
            "cannot be due for removal by Mar 1, 2026, before the hookup on Mar 2, 2026",
        ),
    ],
)
def test_what_is_wrong_is_refused_and_not_written(shop, job, milestone, given, words) -> None:
    refused(shop, job, milestone, words, **given)


def test_a_house_without_circuits_says_what_to_record(shop) -> None:
    bare = shop.job("Lot 99")
    refused(shop, bare, Milestone.HOOKUP, "Record its panel and circuits first")
    house = json.loads(HOUSES["clean"]) | {"circuits": []}
    for cable in house["cables"]:
        cable.pop("circuit", None)
    house_record(shop.lead, job=bare, house=json.dumps(house).encode())
    refused(shop, bare, Milestone.HOOKUP, "no circuits recorded")


def test_circuits_go_by_their_spaces_and_by_their_panel_where_there_are_several(
    shop, wired
) -> None:
    revision = sure(latest_revision(wired))
    assert [each.label for each in circuits_of(revision)] == ["1 All", "3/5 Range"]
    house = json.loads(revision.house)
    house["panels"].append(house["panels"][0] | {"id": "P2", "kind": "feeder"})
    house["circuits"][1] |= {"panel": "P2", "slots": [7], "half": "b", "poles": 1}
    revision.house = json.dumps(house)
    assert [each.label for each in circuits_of(revision)] == ["P1 1 All", "P2 7b Range"]
    assert circuits_of(None) == []


def test_what_is_sent_names_number_and_name(shop, wired) -> None:
    reach(shop, wired, Milestone.HOOKUP, circuits=["range", "1", "range"])
    job_settle(wired.id)
    told = Notice.objects.filter(job=wired, reason="hookup authorised")
    assert {"may be live: 1 All and 3/5 Range." in say(each.text) for each in told} == {True}


def test_circuits_that_were_typed_are_shown_as_typed(client, shop, wired) -> None:
    """A row of before circuits were chosen from the panel."""
    MilestoneReached.objects.create(
        job=wired,
        milestone=Milestone.HOOKUP,
        reference="H0",
        circuits=["7", "the kitchen"],
        reached_on=MARCH,
        recorded_by=shop.office,
        recorded_at="2026-03-02T12:00:00Z",
    )
    client.force_login(shop.office)
    text = client.get(reverse("job", args=[wired.id])).text
    assert "energized, as typed, not matched to the panel: 7, the kitchen" in text
    (found,) = client.get(f"/api/jobs/{wired.id}/milestones").json()["results"]
    assert (found["circuits"], found["live"]) == (["7", "the kitchen"], None)


def test_the_office_chooses_them_on_the_page(client, shop, wired) -> None:
    client.force_login(shop.office)
    text = client.get(reverse("job", args=[wired.id])).text
    assert 'name="circuits" value="range"> 3/5 Range' in text
    given: dict[str, Any] = {"milestone": "hookup", "reached_on": "2026-03-02"}
    given["reference"] = "H1"
    given["confirmed"] = "1"
    url = reverse("milestone", args=[wired.id])
    text = client.post(url, given | {"circuits": ["9"]}, follow=True).text
    assert "The latest house has no circuit 9." in text
    given |= {"circuits": ["range"], "temporary_until": "2026-06-01"}
    text = client.post(url, given, follow=True).text
    assert (
        "reference H1; energized: 3/5 Range; temporary service to be removed by 2026-06-01" in text
    )
    text = client.post(url, {}, follow=True).text
    assert "This field is required." in text


def test_programs_name_them_by_id(client, shop, wired) -> None:
    client.force_login(shop.office)
    url = f"/api/jobs/{wired.id}/milestones"
    given: dict[str, Any] = {"milestone": "hookup", "reached_on": "2026-03-02"}
    given["reference"] = "H1"
    for circuits, words in ((["1", "9"], "no circuit 9"), ([], "Choose the circuits")):
        answer = client.post(url, given | {"circuits": circuits}, "application/json")
        assert answer.status_code == 422
        assert words in answer.json()["detail"]
    given["circuits"] = ["range"]
    refused = client.post(url, given, "application/json")
    assert refused.status_code == 409
    assert [each["detail"] for each in refused.json()["errors"]] == [NO_RELEASE]
    assert not shop.own(MilestoneReached).exists()
    made = client.post(url, given | {"insist": True}, "application/json")
    assert made.status_code == 201
    live = [{"id": "range", "panel": "P1", "number": "3/5", "name": "Range"}]
    assert (made.json()["circuits"], made.json()["live"]) == (["range"], live)


def final(shop, job, answer: Answer, reference: str, **given: Any) -> None:
    inspection = shop.booked(job.areas.get(code="east"), kind=InspectionKind.FINAL)
    given = {"answer": answer, "reference": reference} | given
    inspection_answer(shop.office, inspection=inspection, **given)


def test_a_final_that_the_inspector_did_not_accept_has_no_certificate(shop, job) -> None:
    final(shop, job, Answer.NOT_ACCEPTED, "F1")
    refused(shop, job, Milestone.FINAL, "did not accept the final on ")
    final(shop, job, Answer.ACCEPTED, "F2")
    assert reach(shop, job, Milestone.FINAL).milestone == Milestone.FINAL


def test_no_final_while_a_deficiency_is_open(shop, job) -> None:
    east = job.areas.get(code="east")
    final(shop, job, Answer.NOT_ACCEPTED, "F1", called=[Called(east, "a plate")])
    with pytest.raises(ValidationError, match="final cannot be accepted while deficiencies are"):
        final(shop, job, Answer.ACCEPTED, "F2")
    deficiency = deficiency_correct(shop.lead, deficiency=job.deficiencies.get())
    final(shop, job, Answer.WITH_DEFICIENCIES, "F3")
    refused(shop, job, Milestone.FINAL, "final cannot be recorded while deficiencies are open")
    final(shop, job, Answer.ACCEPTED, "F4", lifted=[deficiency])
    assert reach(shop, job, Milestone.FINAL).milestone == Milestone.FINAL


def confirmed(client: Client, url: str, given: dict[str, Any]) -> str:
    """The page that says what speaks against it; nothing is written."""
    answer = client.post(url, given)
    assert answer.status_code == 409
    assert (
        "Recording it sends messages to the builder, the office and the crew lead." in answer.text
    )
    assert 'name="confirmed" value="1"' in answer.text
    for name, value in given.items():
        assert f'name="{name}" value="{value}"' in answer.text
    return answer.text


def test_a_final_says_what_is_open_before_it_is_recorded(client, shop, job) -> None:
    client.force_login(shop.office)
    permit_extend(shop.office, permit=job.permit, expires_on=date(2026, 2, 1))
    given = {"milestone": "final", "reached_on": "2026-03-02", "reference": "F1"}
    url = reverse("milestone", args=[job.id])
    text = confirmed(client, url, given)
    open_items = finish_items_open(job.id)
    assert open_items > 0
    items = "finish item is" if open_items == 1 else "finish items are"
    said = [
        "The permit expired on Feb 1, 2026.",
        NO_RELEASE,
        f"{open_items} {items} not OK yet.",
        "No accepted final inspection is on record.",
    ]
    assert all(each in text for each in said)
    assert not shop.own(MilestoneReached).exists()
    assert client.post(url, given | {"confirmed": "1"}).status_code == 302
    assert shop.own(MilestoneReached).get().milestone == Milestone.FINAL
    assert job.record.get(action="final recorded").detail["although"]
    although = job.record.get(action="final recorded").detail["although"]
    assert [say(each, "en") for each in although] == said
    page = client.get(reverse("job", args=[job.id])).text
    assert "The final was on Mar 2, 2026, after the permit expired on Feb 1, 2026." in page


def test_a_hookup_says_its_permit_and_its_cover_before_it_is_recorded(client, shop, job) -> None:
    client.force_login(shop.office)
    permit_extend(shop.office, permit=job.permit, expires_on=date(2026, 2, 1))
    given = {"milestone": "hookup", "reached_on": "2026-03-02", "reference": "H1", "circuits": "1"}
    text = confirmed(client, reverse("milestone", args=[job.id]), given)
    assert "The permit expired on Feb 1, 2026." in text
    assert NO_RELEASE in text
    assert "final inspection" not in text


def test_what_nothing_speaks_against_is_recorded_at_once(client, shop, job) -> None:
    for area in job.areas.select_related("job__shop", "job__authority"):
        shop.release(area)
    client.force_login(shop.office)
    given = {"milestone": "hookup", "reached_on": "2026-03-02", "reference": "H1", "circuits": "1"}
    assert client.post(reverse("milestone", args=[job.id]), given).status_code == 302
    assert "although" not in job.record.get(action="hookup recorded").detail


def test_each_circuit_has_its_box_and_its_label_in_one_target(client, shop, wired) -> None:
    client.force_login(shop.office)
    text = client.get(reverse("job", args=[wired.id])).text
    assert '<fieldset class="circuits">' in text
    assert text.count('<label class="check circuit"><input type="checkbox" name="circuits"') == 2

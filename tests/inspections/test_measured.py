"""A measure is a fact: what the tape fails cannot be ticked away, on whichever face."""

import json
from dataclasses import replace
from datetime import timedelta
from importlib import import_module
from uuid import uuid4

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from config.languages import say
from inspections.checker.check import check
from inspections.conclusions.areas import area_holds
from inspections.models import Item, JobStanding, Observation, Outcome
from inspections.selectors import house_of, latest_revision, line_of
from inspections.services.houses import house_record
from inspections.services.observations import item_observe
from inspections.services.settling import job_settle, jobs_due
from inspections.services.walks import TickState, Walked, walk_record
from jobs.models import Job
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db
CONTRADICTED = (
    "Free conductor: 3/8 in. measured, minimum 5 15/16 in. Record it as Fix, or correct the figure."
)
NO_MEASURE = "Enter the measurement in mm, a number from 0 to 100,000."
NONE = [float("nan"), float("inf"), float("-inf"), -0.001, 1e308, 100_000.5]


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


@pytest.fixture
def item(job: Job) -> Item:
    """A look of which a tape says whether it is so: free conductor, at least 150 mm."""
    return the_first(job.items.filter(rule="free-conductors", verdict="verify"))


def tick(item: Item, **given) -> Walked:
    now = timezone.now()
    made = Walked(uuid4(), item.id, Outcome.OK, item.fingerprint, made_at=now, known_at=now)
    return replace(made, **given)


def stored(shop, item: Item, mm: float, outcome: str = "ok") -> Observation:
    """As an older version kept it."""
    now = timezone.now()
    given = {"seen_by": shop.lead, "seen_at": now, "recorded_at": now}
    return Observation.objects.create(
        item=item, outcome=outcome, measured_mm=mm, fingerprint=item.fingerprint, **given
    )


def test_an_item_has_the_limit_of_its_finding(job, item) -> None:
    assert (item.measure_what, item.measure_min_mm) == ("free conductor", 150)
    assert item.measure_max_mm is None
    found = check(*house_of(sure(latest_revision(job))))
    measures = {(each.rule.id, each.subject): each.measure for each in found}
    items = job.items.filter(current=True)
    assert {(i.rule, i.subject): i.measure for i in items} == measures
    assert sum(measure is not None for measure in measures.values()) > 40


def test_a_pass_that_its_measure_contradicts_is_refused_with_why(shop, item) -> None:
    with pytest.raises(ValidationError) as refusal:
        item_observe(shop.lead, item=item, outcome=Outcome.OK, measured_mm=10)
    assert refusal.value.messages == [CONTRADICTED]
    assert not shop.own(Observation).exists()


@pytest.mark.parametrize(("outcome", "mm"), [("fix", 10), ("fix", 180), ("cant_see", 0)])
def test_with_anything_else_a_measure_is_kept(shop, item, outcome: str, mm: float) -> None:
    kept = item_observe(shop.lead, item=item, outcome=Outcome(outcome), measured_mm=mm)
    assert kept.measured_mm == mm
    assert item.job.record.last().detail["measured_mm"] == mm


@pytest.mark.parametrize("figure", NONE)
@pytest.mark.parametrize("outcome", ["ok", "fix"])
def test_what_no_tape_shows_is_no_measure(shop, item, figure: float, outcome: str) -> None:
    with pytest.raises(ValidationError, match="from 0 to 100,000"):
        item_observe(shop.lead, item=item, outcome=Outcome(outcome), measured_mm=figure)
    taken = walk_record(
        shop.lead,
        job=item.job,
        ticks=[tick(item, outcome=Outcome(outcome), measured_mm=figure)],
        phone_now=timezone.now(),
    )
    assert [(each.state, each.says) for each in taken] == [(TickState.REFUSED, NO_MEASURE)]
    assert not shop.own(Observation).exists()


def test_on_a_walk_it_is_refused_in_words_and_the_rest_is_kept(shop, job, item) -> None:
    bad, fixed = tick(item, measured_mm=10), tick(item, outcome=Outcome.FIX, measured_mm=10)
    taken = walk_record(shop.lead, job=job, ticks=[bad, fixed], phone_now=timezone.now())
    assert [(each.state, each.says) for each in taken] == [
        (TickState.REFUSED, CONTRADICTED),
        (TickState.KEPT, ""),
    ]
    assert [seen.outcome for seen in shop.own(Observation).all()] == ["fix"]


def test_the_phone_is_given_what_it_holds_a_tape_against(client, shop, job, item) -> None:
    client.force_login(shop.member)
    data = client.get(reverse("walk-data", args=[job.id])).json()
    cards = {card["id"]: card for room in data["rooms"] for card in room["items"]}
    limits = {
        "what": "Free conductor",
        "limit": "minimum 5 15/16 in.",
        "min_mm": 150,
        "max_mm": None,
    }
    assert cards[str(item.id)]["measure"] == limits
    other = job.items.filter(measure_what="", current=True, stage="rough-in").first()
    assert cards[str(other.id)]["measure"] is None


def test_the_api_takes_a_measure_and_refuses_a_contradiction(client, shop, item) -> None:
    client.force_login(shop.lead)
    address = f"/api/items/{item.id}/observations"
    given = {"outcome": "ok", "measured_mm": 10}
    answer = client.post(address, given, content_type="application/json")
    assert answer.status_code == 422
    assert answer.json()["errors"] == [{"pointer": "#/measured_mm", "detail": CONTRADICTED}]
    made = client.post(address, given | {"measured_mm": 150}, content_type="application/json")
    assert (made.status_code, made.json()["measured_mm"]) == (201, 150)
    lines = client.get(f"/api/jobs/{item.job_id}/items").json()["results"]
    (line,) = (each for each in lines if each["id"] == str(item.id))
    assert (line["standing"], line["contested"]) == ("ok", False)
    assert line["measure"] == {"what": "free conductor", "min_mm": 150, "max_mm": None}
    assert line["latest"]["measured_mm"] == 150


@pytest.mark.parametrize(
    "figure", ['"nan"', '"-inf"', "NaN", "Infinity", "-1", "1e308", "1e400", "1" + "0" * 400, "{}"]
)
def test_the_api_refuses_what_is_no_measure_and_says_where(client, shop, item, figure) -> None:
    client.force_login(shop.lead)
    now = timezone.now().isoformat()
    one = f'{{"outcome": "fix", "measured_mm": {figure}}}'
    told = {"id": str(uuid4()), "item": str(item.id), "outcome": "fix", "made_at": now}
    told |= {"fingerprint": item.fingerprint, "known_at": now}
    walked = json.dumps({"phone_now": now, "ticks": [told | {"measured_mm": "HERE"}]})
    for address, body in (
        (f"/api/items/{item.id}/observations", one),
        (f"/api/jobs/{item.job_id}/observations", walked.replace('"HERE"', figure)),
    ):
        answer = client.post(address, body, content_type="application/json")
        assert answer.status_code == 400, answer.content
        assert answer.json()["detail"]
    assert not shop.own(Observation).exists()


def test_a_page_says_why_and_keeps_what_was_typed(client, shop, item) -> None:
    client.force_login(shop.member)
    page = client.get(reverse("item", args=[item.id])).text
    assert "Free conductor, measured <span>" in page
    assert 'placeholder="6 1/4&quot;"' in page
    given = {"outcome": "ok", "note": "by the stair", "measured_typed": "10 mm"}
    answer = client.post(reverse("observe", args=[item.id]), given)
    assert answer.status_code == 422
    assert CONTRADICTED in answer.text
    assert 'value="by the stair"' in answer.text
    assert 'value="10 mm"' in answer.text
    assert not shop.own(Observation).exists()
    kept = client.post(reverse("observe", args=[item.id]), given | {"measured_typed": '6 1/4"'})
    assert kept.status_code == 302
    seen = shop.own(Observation).get()
    assert (seen.measured_mm, seen.measured_typed) == (158.75, '6 1/4"')
    page = client.get(reverse("item", args=[item.id])).text
    assert "OK on site: measured 6 1/4&quot; by " in page
    assert ": by the stair" in page


@pytest.mark.parametrize("typed", ["nan", "-1", "1e308", "ten", "61/4", "100001"])
def test_a_page_refuses_what_is_no_measure(client, shop, item, typed: str) -> None:
    client.force_login(shop.member)
    given = {"outcome": "fix", "measured_typed": typed}
    answer = client.post(reverse("observe", args=[item.id]), given)
    assert answer.status_code == 422
    remedy = "Enter a length such as 6 1/4&quot; or 160 mm."
    if typed == "100001":
        remedy = "is longer than 328 ft 1 in."
    assert f"“{typed}” " in answer.text
    assert remedy in answer.text
    assert f'value="{typed}"' in answer.text
    assert not shop.own(Observation).exists()


def test_a_page_that_was_opened_before_still_gives_mm(client, shop, item) -> None:
    client.force_login(shop.member)
    address = reverse("observe", args=[item.id])
    assert client.post(address, {"outcome": "fix", "measured_mm": "1e308"}).status_code == 422
    assert client.post(address, {"outcome": "fix", "measured_mm": "40"}).status_code == 302
    seen = shop.own(Observation).get()
    assert (seen.measured_mm, seen.measured_typed) == (40, "")


def test_whoever_may_not_look_is_shown_no_item(client, shop, item) -> None:
    client.force_login(shop.builder)
    given = {"outcome": "ok", "measured_mm": "10"}
    answer = client.post(reverse("observe", args=[item.id]), given)
    assert answer.status_code == 404
    assert say(item.finding["title"], "en") not in answer.text


def test_a_pass_that_is_stored_with_such_a_measure_does_not_pass(client, shop, item) -> None:
    stored(shop, item, 10)
    line = line_of(item)
    assert (line.standing, line.contested) == ("fix", False)
    reasons = {hold.reason for hold in area_holds(item.area, timezone.now())}
    assert "fix" in reasons
    client.force_login(shop.lead)
    page = client.get(reverse("item", args=[item.id])).text
    assert "Free conductor: 3/8 in. measured, minimum 5 15/16 in." in page
    item_observe(shop.lead, item=item, outcome=Outcome.OK, measured_mm=180)
    assert line_of(item).standing == "ok"


def test_whom_such_a_measure_contests_is_told_the_figure(shop, job, item) -> None:
    stored(shop, item, 10)
    early = timezone.now() - timedelta(hours=1)
    taken = walk_record(
        shop.member,
        job=job,
        ticks=[tick(item, known_at=early, measured_mm=180)],
        phone_now=timezone.now(),
    )
    assert taken[0].state is TickState.CONTESTED
    assert "Lead Tester measured 10 mm at" in taken[0].says


def test_a_cover_release_does_not_outlive_a_stored_measure(shop, tiny_job, whole_item) -> None:
    """The next settling withdraws what an older version left clear."""
    shop.release(whole_item.area)
    Item.objects.filter(id=whole_item.id).update(measure_what="gap", measure_min_mm=500)
    stored(shop, whole_item, 10)
    job_settle(tiny_job.id)
    cover_release = whole_item.area.cover_releases.get()
    assert not cover_release.live
    assert "to fix" in cover_release.withdrawn_because


@pytest.fixture
def tiny_job(shop):
    from tests.inspections.tiny import HOUSES

    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def whole_item(tiny_job: Job) -> Item:
    looks = tiny_job.items.filter(area__code="east", verdict="verify", stage="rough-in")
    return the_first(looks)


def test_items_of_before_get_the_limits_that_recording_them_would_give(shop, job) -> None:
    """The migration: the same limits, nothing else changed, and every job due to be settled."""
    was = {item.id: (item.fingerprint, item.measure) for item in job.items.all()}
    assert any(measure for _, measure in was.values())
    job.items.update(measure_what="", measure_min_mm=None, measure_max_mm=None)
    job_settle(job.id)
    assert job.id not in jobs_due()
    import_module("inspections.migrations.0022_measures_filled").fill(apps, None)
    assert {item.id: (item.fingerprint, item.measure) for item in job.items.all()} == was
    assert job.id in jobs_due()
    assert sure(JobStanding.objects.get(job=job).next_at) <= timezone.now()


def test_a_house_that_cannot_be_read_any_more_keeps_no_job_from_its_limits(
    shop, job, house_bytes
) -> None:
    broken = shop.roughed_in(house_bytes)
    item = broken.items.filter(rule="free-conductors").first()
    from inspections.models import HouseRevision

    HouseRevision.objects.create(
        job=broken,
        number=9,
        house="{}",
        rulebook="cec-2021",
        recorded_by=shop.lead,
        recorded_at=timezone.now(),
    )
    Item.objects.update(measure_what="", measure_min_mm=None, measure_max_mm=None)
    import_module("inspections.migrations.0022_measures_filled").fill(apps, None)
    assert job.items.exclude(measure_what="").exists()
    item.refresh_from_db()
    assert item.measure is None


def test_an_amended_limit_is_the_one_a_tape_is_held_against(shop, job, house_bytes, item) -> None:
    given = {"limit": "free-conductors.free_mm", "value": 200, "unit": "mm", "reason": "ours"}
    overlay = "[[amend]]\n" + "".join(f"{k} = {json.dumps(v)}\n" for k, v in given.items())
    house_record(shop.office, job=job, house=house_bytes, amendments=overlay)
    item.refresh_from_db()
    assert item.measure_min_mm == 200
    with pytest.raises(ValidationError, match=r"7 1/16 in\. measured, minimum 7 7/8 in\."):
        item_observe(shop.lead, item=item, outcome=Outcome.OK, measured_mm=180)

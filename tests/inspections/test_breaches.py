"""Work out of order is said, whatever else is in order."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from inspections.models import Item
from inspections.overview.progress import job_breaches
from inspections.services.milestones import milestone_record
from inspections.services.observations import item_observe
from inspections.standing.breaches import OrderFacts, breaches
from inspections.standing.stages import Milestone
from tests.inspections.tiny import HOUSES

MARCH, APRIL, MAY = date(2026, 3, 1), date(2026, 4, 1), date(2026, 5, 1)
FINAL = [(Milestone.FINAL, MAY)]


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (OrderFacts(MARCH, None), []),
        (OrderFacts(MARCH, MARCH), []),
        (OrderFacts(None, MARCH), ["no permit is issued"]),
        (OrderFacts(APRIL, MARCH), ["from 2026-03-01, before the permit was issued on 2026-04-01"]),
        (
            OrderFacts(MARCH, APRIL, [(Milestone.HOOKUP, MAY)], ["Garage"]),
            ["The hookup is on record from 2026-05-01, and never cleared for cover: Garage"],
        ),
        (OrderFacts(MARCH, APRIL, FINAL), []),
        (OrderFacts(MARCH, APRIL, FINAL, finish_open=1), ["1 item of the finish has not passed"]),
        (OrderFacts(MARCH, APRIL, FINAL, finish_open=3), ["3 items of the finish have not"]),
        (OrderFacts(MARCH, APRIL, finish_open=3), []),
        (
            OrderFacts(MARCH, APRIL, finished_unreleased=[("Garage", MAY)]),
            ["Garage: finish work is on record from 2026-05-01, before it was cleared"],
        ),
    ],
)
def test_each_breach(order: OrderFacts, words: list[str]) -> None:
    found = breaches(order)
    assert len(found) == len(words)
    assert all(word in breach for word, breach in zip(words, found, strict=True))


@pytest.mark.django_db
def test_a_job_tells_what_was_done_out_of_order(client, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes, issued=False)
    given = {"milestone": Milestone.FINAL, "reached_on": MARCH, "reference": "C1"}
    milestone_record(shop.office, job=job, **given)
    client.force_login(shop.office)
    text = client.get(f"/jobs/{job.id}/").text
    assert len(job_breaches(job)) == 3
    for breach in job_breaches(job):
        assert breach in text


@pytest.mark.django_db
def test_a_finish_item_seen_before_the_area_was_released_stays_a_breach(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    item = job.items.filter(stage=Item.Stage.FINISH).first()
    before = timezone.now() - timedelta(hours=20)
    item_observe(shop.lead, item=item, outcome="pass", seen_at=before)
    said = f"{item.area.name}: finish work is on record"
    assert any(breach.startswith(said) for breach in job_breaches(job))
    shop.release(item.area)
    assert any(breach.startswith(said) for breach in job_breaches(job))


@pytest.mark.django_db
def test_a_finish_item_seen_after_it_is_none(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    item = job.items.filter(stage=Item.Stage.FINISH).first()
    shop.release(item.area)
    item_observe(shop.lead, item=item, outcome="pass")
    assert not any("finish work" in breach for breach in job_breaches(job))

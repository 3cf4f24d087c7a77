"""Work out of order is said, whatever else is in order."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from config.languages import say
from inspections.models import Item, Outcome
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
        (OrderFacts(None, MARCH), ["No permit is issued"]),
        (OrderFacts(APRIL, MARCH), ["by Mar 1, 2026, before the permit was issued on Apr 1, 2026"]),
        (
            OrderFacts(MARCH, APRIL, [(Milestone.HOOKUP, MAY)], ["Garage"]),
            ["Garage: hookup on May 1, 2026 without a cover release"],
        ),
        (OrderFacts(MARCH, APRIL, FINAL), []),
        (OrderFacts(MARCH, APRIL, FINAL, finish_open=1), ["1 finish item is not OK yet"]),
        (OrderFacts(MARCH, APRIL, FINAL, finish_open=3), ["3 finish items are not OK yet"]),
        (OrderFacts(MARCH, APRIL, finish_open=3), []),
        (
            OrderFacts(MARCH, APRIL, finished_unreleased=[("Garage", MAY)]),
            ["Garage: finish work on May 1, 2026, before the cover release"],
        ),
        (
            OrderFacts(MARCH, APRIL, [(Milestone.HOOKUP, MAY)], permit_ended_on=APRIL),
            ["The hookup was on May 1, 2026, after the permit expired on Apr 1, 2026"],
        ),
        (
            OrderFacts(MARCH, APRIL, FINAL, permit_ended_on=APRIL),
            ["The final was on May 1, 2026, after the permit expired on Apr 1, 2026"],
        ),
        (OrderFacts(MARCH, APRIL, FINAL, permit_ended_on=MAY), []),
        (OrderFacts(MARCH, APRIL, [(Milestone.TEMPORARY_GONE, MAY)], permit_ended_on=APRIL), []),
    ],
)
def test_each_breach(order: OrderFacts, words: list[str]) -> None:
    found = [say(each, "en") for each in breaches(order)]
    assert len(found) == len(words)
    assert all(word in breach for word, breach in zip(words, found, strict=True))


@pytest.mark.django_db
def test_a_job_tells_what_was_done_out_of_order(client, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes, issued=False)
    milestone_record(
        shop.office, job=job, milestone=Milestone.FINAL, reached_on=MARCH, reference="C1"
    )
    client.force_login(shop.office)
    text = client.get(f"/jobs/{job.id}/").text
    assert len(job_breaches(job)) == 3
    for breach in job_breaches(job):
        assert say(breach, "en") in text


@pytest.mark.django_db
def test_a_finish_item_seen_before_the_area_was_released_stays_a_breach(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    item = job.items.filter(stage=Item.Stage.FINISH).first()
    before = timezone.now() - timedelta(hours=20)
    item_observe(shop.lead, item=item, outcome=Outcome.OK, seen_at=before)
    said = f"{item.area.name}: finish work on"
    assert any(say(each, "en").startswith(said) for each in job_breaches(job))
    shop.release(item.area)
    assert any(say(each, "en").startswith(said) for each in job_breaches(job))


@pytest.mark.django_db
def test_a_finish_item_seen_after_it_is_none(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    item = job.items.filter(stage=Item.Stage.FINISH).first()
    shop.release(item.area)
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert not any("finish work" in say(each, "en") for each in job_breaches(job))

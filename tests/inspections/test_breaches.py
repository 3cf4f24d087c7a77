"""Work out of order is said, whatever else is in order."""

from datetime import date

import pytest

from inspections.breaches import OrderFacts, breaches
from inspections.selectors import job_breaches
from inspections.services import milestone_record
from inspections.stages import Milestone

MARCH, APRIL, MAY = date(2026, 3, 1), date(2026, 4, 1), date(2026, 5, 1)


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (OrderFacts(MARCH, None), []),
        (OrderFacts(MARCH, MARCH), []),
        (OrderFacts(None, MARCH), ["no permit is issued"]),
        (OrderFacts(APRIL, MARCH), ["from 2026-03-01, before the permit was issued on 2026-04-01"]),
        (
            OrderFacts(MARCH, APRIL, [(Milestone.FINISH, MAY)], ["Garage"]),
            ["The finish is on record from 2026-05-01, and never cleared for cover: Garage"],
        ),
        (OrderFacts(MARCH, APRIL, [(Milestone.FINAL, MAY)]), ["no finish before it"]),
        (
            OrderFacts(MARCH, APRIL, [(Milestone.FINISH, MAY), (Milestone.FINAL, APRIL)]),
            ["from before the finish"],
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
    milestone_record(shop.office, job=job, milestone=Milestone.FINISH, reached_on=APRIL)
    client.force_login(shop.office)
    text = client.get(f"/jobs/{job.id}/").text
    assert len(job_breaches(job)) == 2
    for breach in job_breaches(job):
        assert breach in text

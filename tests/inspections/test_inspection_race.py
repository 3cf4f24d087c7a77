"""Many hands on one inspection that names no area: each thing happens to it once."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier

import pytest
from django.db import connections
from django.utils import timezone

from inspections.models import Answer, Happening, Inspection, InspectionKind, JobAnswer
from inspections.services.answers import inspection_answer
from inspections.services.events import NotNow
from inspections.services.inspections import inspection_ask, inspection_happen
from tests.inspections.test_race import doorbell_off  # noqa: F401  a fixture

HANDS = 8

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.postgresql,
    pytest.mark.usefixtures("doorbell_off"),
]


def at_once(do) -> Counter[str]:
    """The same by many hands at one moment; how many did it and how many were refused."""
    together = Barrier(HANDS)

    def hand(number: int) -> str:
        try:
            together.wait()
            do(number)
        except NotNow:
            return "refused"
        finally:
            connections.close_all()
        return "done"

    with ThreadPoolExecutor(HANDS) as pool:
        return Counter(pool.map(hand, range(HANDS)))


def test_an_inspection_without_areas_is_booked_and_answered_once(shop) -> None:
    job = shop.job()
    inspection = inspection_ask(shop.office, job=job, kind=InspectionKind.SERVICE)
    starts = timezone.now() - timedelta(hours=1)

    def fresh() -> Inspection:
        return Inspection.objects.select_related("job__shop").get(id=inspection.id)

    def book(number: int) -> None:
        inspection_happen(
            shop.office,
            inspection=fresh(),
            happening=Happening.BOOKED,
            starts_at=starts,
            ends_at=starts + timedelta(hours=2),
            note=str(number),
        )

    def answer(number: int) -> None:
        inspection_answer(
            shop.office, inspection=fresh(), answer=Answer.ACCEPTED, reference=f"S{number}"
        )

    assert at_once(book) == {"done": 1, "refused": HANDS - 1}
    assert at_once(answer) == {"done": 1, "refused": HANDS - 1}
    assert [event.happening for event in inspection.events.all()] == ["booked", "held"]
    assert shop.own(JobAnswer).count() == 1

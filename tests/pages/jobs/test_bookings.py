"""The form that books an inspection: its boxes have labels, and a fault is said once."""

import pytest
from django.urls import reverse

from inspections.models import InspectionKind
from inspections.services.inspections import inspection_ask
from tests.clocks import house_day
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db


@pytest.fixture
def inspection(shop):
    job = shop.roughed_in(HOUSES["clean"])
    areas = list(job.areas.all())
    return inspection_ask(
        shop.office, job=job, kind=InspectionKind.ROUGH_IN, areas=areas, insist=True
    )


def test_each_box_of_day_and_time_has_a_label_that_is_seen(client, shop, inspection) -> None:
    client.force_login(shop.office)
    text = client.get(reverse("job", args=[inspection.job_id])).text
    for label, kind, name in (
        ("Day", "date", "day"),
        ("From", "time", "starts"),
        ("To", "time", "ends"),
    ):
        assert f'<label>{label} <input type="{kind}" name="{name}"></label>' in text


def test_an_end_before_its_start_is_told_once(client, shop, inspection) -> None:
    client.force_login(shop.office)
    given = {"happening": "booked", "day": house_day(3), "starts": "11:00", "ends": "09:00"}
    answer = client.post(reverse("happening", args=[inspection.id]), given)
    assert answer.status_code == 422
    assert answer.text.count("The window must end after it starts. Enter a later end.") == 1
    box = answer.text.index('name="ends"')
    assert "aria-describedby" in answer.text[box - 200 : box + 200]

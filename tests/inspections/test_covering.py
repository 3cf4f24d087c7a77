"""Each layer of the cover may start only when the area is clear and what is beneath is done."""

import pytest
from django.core.exceptions import ValidationError

from inspections.overview.cover import cover_of
from inspections.selectors import job_read
from inspections.services.trades import trade_report
from inspections.standing.age import Sign
from inspections.standing.cover_layers import starts

LAYERS = ["insulation", "vapour barrier", "drywall"]


@pytest.mark.parametrize(
    ("sign", "done", "may"),
    [
        (Sign.HOLD, {}, [False, False, False]),
        (Sign.HOLD, {"insulation": True, "vapour barrier": True}, [False, False, False]),
        (Sign.UNCHECKED, {"insulation": True}, [False, False, False]),
        (Sign.CLEAR, {}, [True, False, False]),
        (Sign.CLEAR, {"insulation": True}, [True, True, False]),
        (Sign.CLEAR, {"insulation": True, "vapour barrier": True}, [True, True, True]),
        (Sign.CLEAR, {"vapour barrier": True}, [True, False, True]),
        (Sign.CLEAR, {"insulation": False, "vapour barrier": True}, [True, False, True]),
    ],
)
def test_what_may_start(sign, done, may) -> None:
    found = starts(LAYERS, sign, done)
    assert [start.may for start in found] == may
    assert all(bool(start.waits_for) != start.may for start in found)


def test_a_shop_without_layers_asks_for_none() -> None:
    assert starts([], Sign.CLEAR, {}) == []


@pytest.mark.django_db
def test_the_builder_reports_a_layer_and_sees_the_next_may_start(client, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    area = job.areas.get(code="bedroom")
    shop.release(area)
    trade_report(shop.builder, job=job, trade="insulation", area=area)
    job = job_read(shop.builder, job.id)
    layers = dict(cover_of(job))
    may = {start.layer: start.may for start in layers[area]}
    assert may == {"insulation": True, "vapour barrier": True, "drywall": False}
    garage = job.areas.get(code="garage")
    assert not any(start.may for start in layers[garage])
    client.force_login(shop.builder)
    text = client.get(f"/jobs/{job.id}/").text
    assert "vapour barrier: OK to start" in text
    assert "drywall: wait, vapour barrier is not reported done" in text
    with pytest.raises(ValidationError, match="Choose the area"):
        trade_report(shop.builder, job=job, trade="insulation")

"""A circuit as it was pulled becomes a revision once, with who and why, and is undone exactly."""

import json
from itertools import pairwise
from typing import Any
from uuid import uuid4

import pytest

from config.languages import say
from inspections.checker.finding import Verdict
from inspections.fixes.cables_changed import Hop
from inspections.models import FactCorrection, HouseRevision
from inspections.selectors import latest_revision
from inspections.services.fact_corrections import (
    FactMoved,
    NotCorrected,
    fact_correction_undo,
)
from inspections.services.pulled_circuits import circuit_pulled
from jobs.access import NotAllowed
from tests.fixes.test_as_pulled import long_run
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


def swapped() -> tuple[str, list[Hop], list[Hop]]:
    """A circuit with two boxes fed in the other order: shown and as pulled."""
    circuit, hops = long_run()
    order = [hops[0][0], *(end for _, end in hops)]
    order[1], order[2] = order[2], order[1]
    return circuit, hops, list(pairwise(order))


def give(shop, job, actor=None, **more: Any) -> FactCorrection:
    circuit, shown, hops = swapped()
    given: dict[str, Any] = {"circuit": circuit, "shown": shown, "hops": hops}
    given |= {"correction_id": uuid4()} | more
    return circuit_pulled(actor or shop.lead, job=job, **given)


def house_of_today(job) -> Any:
    return json.loads(sure(latest_revision(job)).house)


def test_it_is_one_revision_that_says_who_and_what(shop, job) -> None:
    before = HouseRevision.objects.filter(job=job).count()
    name = uuid4()
    made = give(shop, job, correction_id=name)
    again = give(shop, job, correction_id=name)
    assert made.id == again.id
    assert HouseRevision.objects.filter(job=job).count() == before + 1
    revision = sure(latest_revision(job))
    assert f"circuit {swapped()[0]} as pulled: P1 – " in revision.why
    assert str(shop.lead) in revision.why
    assert made.changes


def test_what_was_seen_of_a_cable_that_is_not_there_is_open_again(shop, job) -> None:
    circuit, _, _ = swapped()
    path = job.items.get(rule="circuit-paths", subject=circuit, current=True)
    assert path.verdict == Verdict.OK
    give(shop, job)
    path.refresh_from_db()
    assert path.verdict == Verdict.OK


def test_an_undo_brings_back_every_cable_as_it_was(shop, job) -> None:
    before = house_of_today(job)
    made = give(shop, job)
    fact_correction_undo(shop.lead, correction=made, correction_id=uuid4())
    after = house_of_today(job)
    for kind in ("cables", "holes", "bundles", "fastenings", "separations"):
        key = str if kind == "separations" else (lambda part: part["id"])
        assert sorted(before[kind], key=key) == sorted(after[kind], key=key), kind
    assert "undone by" in sure(latest_revision(job)).why


def test_where_other_runs_are_recorded_by_now_both_are_shown(shop, job) -> None:
    _, shown, hops = swapped()
    give(shop, job)
    with pytest.raises(FactMoved) as moved:
        give(shop, job, hops=[*hops[:-1]])
    said = say(moved.value.text, "en")
    assert said.count("P1 – ") == 2
    with pytest.raises(NotCorrected):
        give(shop, job, shown=hops, hops=hops)
    with pytest.raises(NotCorrected):
        give(shop, job, shown=hops, hops=shown[1:])
    assert FactCorrection.objects.filter(job=job).count() == 1


def test_only_who_works_on_site_says_it(shop, stranger_shop, job) -> None:
    for actor in (shop.builder, stranger_shop.office, stranger_shop.lead):
        with pytest.raises(NotAllowed):
            give(shop, job, actor=actor)
    assert not FactCorrection.objects.filter(job=job).exists()

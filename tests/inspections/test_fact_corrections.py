"""A fact corrected on site: one revision, done once, seen by whoever corrected it, and undone."""

import json
from copy import deepcopy
from typing import Any
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError

from inspections.checker.finding import Verdict
from inspections.checker.house.paths import value_at
from inspections.models import FactCorrection, Given, Observation, Outcome, RecordEntry
from inspections.selectors import latest_revision
from inspections.services.consequences import WouldWithdraw
from inspections.services.fact_corrections import (
    CorrectedFact,
    FactMoved,
    NotCorrected,
    fact_correct,
    fact_correction_undo,
)
from jobs.access import NotAllowed
from tests.sure import sure

pytestmark = pytest.mark.django_db

SETBACK = ("boxes", "R22", "setback_mm")
VOLUME = ("boxes", "R16", "volume_ml")
FLUSH = CorrectedFact(SETBACK, 9.0, 6.0, "6")


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


def now(job, path) -> Any:
    return value_at(json.loads(sure(latest_revision(job)).house), path)


def item(job, key: str):
    rule, _, subject = key.partition(":")
    return job.items.get(rule=rule, subject=subject)


def corrected(shop, job, *changes, who=None, **more) -> FactCorrection:
    given = {"job": job, "correction_id": uuid4(), "base": 1, "changes": changes} | more
    return fact_correct(who or shop.member, **given)


def test_a_figure_that_complies_makes_the_line_ok_and_a_revision_says_what_changed(
    shop, job
) -> None:
    assert item(job, "box-fill:R16").verdict == Verdict.NOT_TO_CODE
    made = corrected(shop, job, CorrectedFact(VOLUME, 180.0, 262.0))
    assert now(job, VOLUME) == 262.0
    assert item(job, "box-fill:R16").verdict == Verdict.OK
    revision = sure(latest_revision(job))
    assert (made.revision, made.base) == (revision.number, revision.number - 1)
    assert "Volume of box R16" in revision.why
    assert "fixed on site by Member Tester" in revision.why
    assert revision.recorded_by == shop.member
    assert RecordEntry.objects.filter(job=job, action="fact corrected").count() == 1


def test_a_figure_that_does_not_comply_is_recorded_and_stays_not_to_code(shop, job) -> None:
    corrected(shop, job, CorrectedFact(SETBACK, 9.0, 7.0, "7"))
    assert now(job, SETBACK) == 7.0
    assert item(job, "box-flush:R22").verdict == Verdict.NOT_TO_CODE
    assert not item(job, "box-flush:R22").observations.exists()


def test_whoever_corrected_it_has_seen_it_and_what_the_tape_showed_is_kept(shop, job) -> None:
    corrected(shop, job, FLUSH)
    (look,) = item(job, "box-flush:R22").observations.all()
    assert (look.outcome, look.given) == (Outcome.OK, Given.FIXED)
    assert (look.measured_mm, look.measured_typed) == (6.0, "6")
    assert look.seen_by == shop.member
    assert look.fingerprint == item(job, "box-flush:R22").fingerprint


def test_what_was_typed_gives_the_exact_figure(shop, job) -> None:
    made = corrected(shop, job, CorrectedFact(SETBACK, 9.0, None, '1/8"'))
    assert now(job, SETBACK) == pytest.approx(3.175)
    assert made.changes[0]["typed"] == '1/8"'


def test_the_depth_of_a_kind_of_device_is_a_length_that_is_typed(shop, job) -> None:
    path = ("device_depth_mm", "receptacle")
    was = now(job, ("device_depth_mm",)).get("receptacle")
    corrected(shop, job, CorrectedFact(path, was, None, '1 7/8"'))
    assert now(job, path) == pytest.approx(47.625)


def test_it_is_done_once_however_often_it_comes(shop, job) -> None:
    name = uuid4()
    first = corrected(shop, job, FLUSH, correction_id=name)
    again = corrected(shop, job, FLUSH, correction_id=name)
    assert first == again
    assert job.revisions.count() == 2
    with pytest.raises(ValidationError, match="id"):
        corrected(shop, job, CorrectedFact(VOLUME, 180.0, 262.0), correction_id=name)


def test_an_old_value_that_no_longer_stands_shows_both(shop, job) -> None:
    corrected(shop, job, CorrectedFact(VOLUME, 180.0, 262.0))
    with pytest.raises(FactMoved) as moved:
        corrected(shop, job, CorrectedFact(VOLUME, 180.0, 295.0))
    assert "15.99 cu. in." in str(moved.value)
    assert "10.98 cu. in." in str(moved.value)
    assert now(job, VOLUME) == 262.0


def test_a_base_that_is_old_does_no_harm_while_the_value_stands(shop, job) -> None:
    corrected(shop, job, CorrectedFact(VOLUME, 180.0, 262.0))
    corrected(shop, job, FLUSH, base=1)
    assert (now(job, VOLUME), now(job, SETBACK)) == (262.0, 6.0)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (CorrectedFact(("rooms", "living", "name"), "Living room", "Parlour"), "drawing board"),
        (CorrectedFact(("name",), "x", "y"), "drawing board"),
        (CorrectedFact(("boxes", "R999", "volume_ml"), None, 300.0), "R999"),
        (CorrectedFact(SETBACK, 9.0, 9.0), "recorded already"),
    ],
)
def test_what_is_not_corrected_on_site_is_refused(shop, job, change, says) -> None:
    with pytest.raises(NotCorrected, match=says):
        corrected(shop, job, change)
    assert job.revisions.count() == 1


def test_a_house_that_cannot_be_is_refused_whole(shop, job) -> None:
    with pytest.raises(ValidationError):
        corrected(shop, job, FLUSH, CorrectedFact(VOLUME, 180.0, -1.0))
    assert job.revisions.count() == 1
    assert not FactCorrection.objects.filter(job=job).exists()


def test_a_builder_corrects_nothing(shop, job) -> None:
    with pytest.raises(NotAllowed):
        corrected(shop, job, FLUSH, who=shop.builder)


def test_many_facts_are_one_revision(shop, job) -> None:
    corrected(shop, job, FLUSH, CorrectedFact(VOLUME, 180.0, 262.0))
    assert (now(job, VOLUME), now(job, SETBACK)) == (262.0, 6.0)
    assert job.revisions.count() == 2


def test_an_undo_puts_the_old_value_back_as_a_revision_once(shop, job) -> None:
    before = json.loads(sure(latest_revision(job)).house)
    made = corrected(shop, job, FLUSH)
    undo = fact_correction_undo(shop.member, correction=made, correction_id=uuid4())
    assert json.loads(sure(latest_revision(job)).house) == before
    assert item(job, "box-flush:R22").verdict == Verdict.NOT_TO_CODE
    assert job.revisions.count() == 3
    assert "undone by" in sure(latest_revision(job)).why
    with pytest.raises(ValidationError, match="already undone"):
        fact_correction_undo(shop.member, correction=made, correction_id=uuid4())
    with pytest.raises(ValidationError, match="cannot be undone"):
        fact_correction_undo(shop.member, correction=undo, correction_id=uuid4())


def test_a_box_that_was_added_is_taken_out_by_an_undo(shop, job) -> None:
    before = json.loads(sure(latest_revision(job)).house)
    place = {"surface": "ceiling"}
    box = {"id": "A6", "room": "bed3", "place": place, "devices": [{"kind": "smoke_alarm"}]}
    made = corrected(shop, job, CorrectedFact(("boxes", "A6"), None, box))
    assert item(job, "smoke-alarms:bed3").verdict == Verdict.OK
    fact_correction_undo(shop.member, correction=made, correction_id=uuid4())
    assert json.loads(sure(latest_revision(job)).house) == before


def test_a_fact_that_was_missing_is_missing_again_after_an_undo(shop, job) -> None:
    before = deepcopy(json.loads(sure(latest_revision(job)).house))
    made = corrected(shop, job, CorrectedFact(("boxes", "S5", "braces"), None, 1))
    (look,) = item(job, "wide-box-support:S5").observations.all()
    assert look.given == Given.FIXED
    fact_correction_undo(shop.lead, correction=made, correction_id=uuid4())
    assert json.loads(sure(latest_revision(job)).house) == before
    assert item(job, "wide-box-support:S5").verdict == Verdict.INFO_NEEDED


def test_a_correction_is_neither_edited_nor_deleted(shop, job) -> None:
    from django.db import DatabaseError, transaction

    made = corrected(shop, job, FLUSH)
    for act in (made.delete, lambda: FactCorrection.objects.filter(id=made.id).update(note="x")):
        with pytest.raises(DatabaseError), transaction.atomic():
            act()


@pytest.fixture
def released(shop, house_bytes):
    """A job with an area whose cover release was issued."""
    job = shop.roughed_in(house_bytes)
    area = job.areas.order_by("id").first()
    shop.release(area)
    return job, area


def a_change(job, area, worse: bool) -> CorrectedFact:
    """A box of the area that becomes worse, or takes a figure that changes no verdict."""
    for each in area.items.filter(rule="box-fill", verdict=Verdict.OK, current=True):
        path = ("boxes", each.subject, "volume_ml")
        was = now(job, path)
        if was:
            return CorrectedFact(path, was, 1.0 if worse else was + 100)
    raise AssertionError


def test_what_would_withdraw_a_cover_release_is_said_first(shop, released) -> None:
    job, area = released
    change = a_change(job, area, worse=True)
    with pytest.raises(WouldWithdraw):
        corrected(shop, job, change, withdraws=False)
    assert area.cover_releases.filter(withdrawn_at=None).exists()
    corrected(shop, job, change)
    assert not area.cover_releases.filter(withdrawn_at=None).exists()


def test_an_undo_ends_where_the_area_is_released(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    area = job.areas.order_by("id").first()
    made = corrected(shop, job, a_change(job, area, worse=False))
    shop.release(area)
    with pytest.raises(NotCorrected, match="released since"):
        fact_correction_undo(shop.member, correction=made, correction_id=uuid4())
    assert area.cover_releases.filter(withdrawn_at=None).exists()
    assert job.revisions.count() == 2


def test_nothing_is_looked_at_beyond_what_the_fact_settles(shop, job) -> None:
    corrected(shop, job, FLUSH)
    assert Observation.objects.filter(item__job=job).count() == 1

"""What refuses a look at several items, and what a refused tick says to do instead."""

import pytest
from django.core.exceptions import ValidationError
from django.utils import translation

from config.messages.lengths import LONGEST_MM
from inspections.checker.finding import Verdict
from inspections.models import Item, Observation, Outcome
from inspections.services.observations import (
    NotAsDrawn,
    NothingToPass,
    item_observe,
    items_observe,
    refuse_no_measure,
)
from inspections.services.typed_measures import given_measure
from jobs.access import NotAllowed
from tests.inspections.tiny import HOUSES
from tests.sure import the_first

pytestmark = pytest.mark.django_db
WHY = "no dishwasher in this house"


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["short"])


def to_verify(job) -> list[Item]:
    found = job.items.filter(verdict=Verdict.VERIFY, current=True)
    return list(found.select_related("job__shop").order_by("position"))


def test_not_applicable_is_said_of_one_check_at_a_time(shop, job) -> None:
    items = to_verify(job)
    for several in (items[:2], items[:3]):
        with pytest.raises(NotAsDrawn):
            items_observe(shop.member, items=several, outcome=Outcome.NA, note=WHY)
    assert not shop.own(Observation).exists()
    (look,) = items_observe(shop.member, items=items[:1], outcome=Outcome.NA, note=WHY)
    assert (look.outcome, look.note) == (Outcome.NA, WHY)


def test_what_is_not_to_code_is_refused_with_what_would_close_it(shop, job) -> None:
    item = the_first(job.items.filter(rule="wide-box-support", verdict=Verdict.NOT_TO_CODE))
    with pytest.raises(NothingToPass, match=r"[Bb]race"):
        item_observe(shop.member, item=item, outcome=Outcome.OK)
    item.finding.pop("remedy")
    item.save()
    with pytest.raises(NothingToPass, match="cannot be recorded as OK") as refused:
        item_observe(shop.member, item=item, outcome=Outcome.OK)
    assert "race" not in str(refused.value)


def test_of_two_jobs_only_the_looks_at_the_first_are_recorded(shop, job, stranger_shop) -> None:
    mine = to_verify(job)[0]
    theirs = to_verify(stranger_shop.roughed_in(HOUSES["short"]))[0]
    looks = items_observe(shop.member, items=[mine, theirs], outcome=Outcome.FIX)
    assert [look.item_id for look in looks] == [mine.id]
    assert not theirs.observations.exists()
    with pytest.raises(NotAllowed):
        items_observe(shop.member, items=[theirs, mine], outcome=Outcome.FIX)
    assert mine.observations.count() == 1


@pytest.mark.parametrize(
    ("typed", "mm", "agree"),
    [
        ("0 mm", 0.01, True),
        ("0 mm", 0.0101, False),
        ("160 mm", 160.009, True),
        ("160 mm", 159.991, True),
        ("160 mm", 160.02, False),
        ("160 mm", 159.98, False),
    ],
)
def test_two_figures_of_one_measure_differ_by_a_hundredth_at_most(typed, mm, agree) -> None:
    if agree:
        assert given_measure(typed, mm).typed == typed
    else:
        with pytest.raises(ValidationError):
            given_measure(typed, mm)


@pytest.mark.parametrize(("language", "typed"), [("fr-ca", "152,5 mm"), ("es-us", "152.5 mm")])
def test_a_measure_is_read_in_the_language_of_whoever_types_it(language, typed) -> None:
    with translation.override(language):
        assert given_measure(typed, None).mm == 152.5


@pytest.mark.parametrize("mm", [-0.5, -1.0, LONGEST_MM + 0.5, float("nan")])
def test_no_tape_shows_less_than_nothing_or_more_than_the_longest(mm) -> None:
    with pytest.raises(ValidationError):
        refuse_no_measure(mm)
    for shown in (None, 0.0, float(LONGEST_MM)):
        refuse_no_measure(shown)

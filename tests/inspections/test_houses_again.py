"""A house that is recorded again: its items follow, and the record keeps what was drawn."""

import json
from typing import Any

import pytest

from inspections.checker.finding import Verdict
from inspections.models import Item
from inspections.services.houses import AnotherRevision, house_record
from tests.inspections.tiny import HOUSES, tiny

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, stranger_shop):
    stranger_shop.roughed_in(HOUSES["clean"])
    return shop.roughed_in(HOUSES["clean"])


def without(box: str, cable: str) -> bytes:
    """The clean house without one box and its cable."""
    house = json.loads(HOUSES["clean"])
    house["boxes"] = [each for each in house["boxes"] if each["id"] != box]
    house["cables"] = [each for each in house["cables"] if each["id"] != cable]
    return json.dumps(house).encode()


def items(job, **among: Any) -> dict[tuple[str, str], Item]:
    return {(each.rule, each.subject): each for each in job.items.filter(**among)}


def drawn(job) -> list[str]:
    """What the record keeps of the items, house by house."""
    entries = job.record.filter(action="house recorded").order_by("number")
    return [entry.detail["items"] for entry in entries]


def test_items_of_what_is_gone_are_no_part_of_the_house_and_the_others_stay(shop, job) -> None:
    before = items(job)
    house_record(shop.lead, job=job, house=without("west-data", "west-d"))
    gone, left = items(job, current=False), items(job, current=True)
    of_it = {key for key in before if "west-data" in key[1]}
    assert of_it
    assert of_it <= set(gone)
    assert ("wide-box-support", "east-wide") in left
    assert set(gone) | set(left) >= set(before)
    assert not set(gone) & set(left)
    assert all(each.id == before[key].id for key, each in gone.items())
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    assert {key: each.id for key, each in items(job, current=True).items()} == {
        key: each.id for key, each in before.items()
    }


def test_what_changed_is_written_and_keeps_its_id(shop, job) -> None:
    key = ("wide-box-support", "east-wide")
    before = items(job)
    house_record(shop.lead, job=job, house=tiny(braces=0))
    after = items(job, current=True)
    assert before[key].verdict == Verdict.OK
    assert after[key].verdict == Verdict.NOT_TO_CODE
    assert after[key].id == before[key].id
    assert after[key].fingerprint != before[key].fingerprint
    assert after[key].finding["fingerprint"] == after[key].fingerprint
    others = [each for each in before if each != key]
    assert all(after[each].fingerprint == before[each].fingerprint for each in others)


def test_items_stand_in_the_order_of_the_findings(job) -> None:
    positions = sorted(job.items.values_list("position", flat=True))
    assert positions == list(range(len(positions)))


def test_the_record_keeps_what_was_drawn_of_each_house(shop, job) -> None:
    house_record(shop.lead, job=job, house=tiny(braces=0))
    house_record(shop.lead, job=job, house=without("west-data", "west-d"))
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    first, second, third, fourth = drawn(job)
    assert first == fourth
    assert len({first, second, third}) == 3


def test_a_house_is_recorded_upon_the_one_that_its_maker_saw(shop, job) -> None:
    revision = house_record(shop.lead, job=job, house=tiny(braces=0), base=1)
    assert revision.number == 2
    for base in (0, 1, 3):
        with pytest.raises(AnotherRevision, match="2"):
            house_record(shop.lead, job=job, house=HOUSES["clean"], base=base)
    assert job.revisions.count() == 2
    first = house_record(shop.lead, job=shop.job("Lot 16"), house=HOUSES["clean"], base=0)
    assert first.number == 1

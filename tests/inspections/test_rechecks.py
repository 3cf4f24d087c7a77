"""What newer rules would say of a house is listed as it differs, and answers go on by version."""

from typing import Any

import pytest
from django.db.models import QuerySet

from inspections.checker.finding import Verdict, rules_digest
from inspections.models import CarriedAnswers, Item, JobStanding, Outcome
from inspections.selectors import line_of
from inspections.services.houses import house_record
from inspections.services.observations import item_observe
from inspections.services.rechecks import (
    NewerSays,
    answers_carry,
    house_recheck,
    jobs_by_older_rules,
    recheck_plan,
)
from inspections.standing.holds import Standing
from jobs.access import NotAllowed
from tests.inspections.tiny import HOUSES, tiny
from tests.sure import the_first

pytestmark = pytest.mark.django_db
OLDER = "a" * 16


@pytest.fixture
def job(shop, stranger_shop):
    stranger_shop.roughed_in(HOUSES["clean"])
    return shop.roughed_in(HOUSES["clean"])


def one(job, rule: str = "wide-box-support") -> Item:
    found: QuerySet[Item] = job.items.filter(rule=rule).order_by("subject")
    return the_first(found.select_related("job__shop"))


def kept(item: Item, **otherwise: Any) -> None:
    """Store the item as an older version did, with these values in its finding."""
    item.finding = item.finding | otherwise
    item.save()


def of_version(item: Item, version: int = 99) -> None:
    """Store the item as another version of its rule did, with facts of another shape."""
    item.fingerprint = OLDER
    kept(item, version=version, facts={"shape": "another"}, fingerprint=OLDER)


def planned(job) -> list[tuple[str, str, str]]:
    return [(each.key[0], each.was, each.now) for each in recheck_plan(job)]


def carried(job) -> list[CarriedAnswers]:
    return list(CarriedAnswers.objects.filter(item__job=job))


def test_rules_that_say_the_same_plan_nothing(shop, job) -> None:
    assert recheck_plan(job) == []
    assert recheck_plan(shop.job("Lot 16")) == []


def test_a_verdict_that_is_another_is_listed_with_both(job) -> None:
    item = one(job)
    Item.objects.filter(id=item.id).update(verdict=Verdict.NOT_TO_CODE)
    (says,) = recheck_plan(job)
    assert isinstance(says, NewerSays)
    assert says.key == (item.rule, item.subject)
    assert (says.was, says.now) == ("not_to_code", "ok")
    assert says.finding is not None
    assert says.finding.subject == item.subject


def test_what_only_one_of_them_has_is_listed_with_nothing_on_the_other_side(job) -> None:
    item = one(job)
    Item.objects.filter(id=item.id).update(subject="gone")
    listed = {each.key[1]: each for each in recheck_plan(job)}
    assert set(listed) == {item.subject, "gone"}
    assert (listed["gone"].was, listed["gone"].now) == ("ok", "")
    assert listed["gone"].finding is None
    assert (listed[item.subject].was, listed[item.subject].now) == ("", "ok")


def test_an_item_that_is_no_part_of_the_house_any_more_is_not_listed(job) -> None:
    item = one(job)
    item.id, item.subject, item.current = None, "gone", False
    item.save(force_insert=True)
    assert recheck_plan(job) == []


@pytest.mark.parametrize(
    "change",
    [
        {"stage": Item.Stage.FINISH},
        {"measure_min_mm": 7.0},
        {"measure_max_mm": 7.0},
    ],
)
@pytest.mark.parametrize("version", [None, 99])
def test_another_stage_or_limit_of_a_tape_is_something_else(job, change, version) -> None:
    item = one(job)
    if version:
        of_version(item, version)
    Item.objects.filter(id=item.id).update(**change)
    assert planned(job) == [(item.rule, "ok", "ok")]


def test_another_area_is_something_else(job) -> None:
    item = one(job)
    Item.objects.filter(id=item.id).update(area=job.areas.get(code="west"))
    assert planned(job) == [(item.rule, "ok", "ok")]


def test_of_the_same_version_the_facts_and_limits_have_to_be_the_same(job) -> None:
    item = one(job)
    facts, limits = item.finding["facts"], item.finding["limits"]
    kept(item, facts={"shape": "another"})
    assert planned(job) == [(item.rule, "ok", "ok")]
    kept(item, facts=facts)
    assert planned(job) == []
    assert limits
    for at in range(len(limits)):
        raised = [dict(each) for each in limits]
        raised[at]["value"] = 77
        kept(item, limits=raised)
        assert planned(job) == [(item.rule, "ok", "ok")]
    kept(item, limits=[])  # what names no limit says nothing against it
    assert planned(job) == []


@pytest.mark.parametrize("other", [{"section": "1-1"}, {"edition": "NEC 1999"}])
@pytest.mark.parametrize("version", [None, 99])
def test_another_section_or_edition_is_something_else(job, other, version) -> None:
    item = one(job)
    if version:
        of_version(item, version)
    kept(item, **other)
    assert planned(job) == [(item.rule, "ok", "ok")]


def test_a_finding_without_a_version_is_of_the_first(job) -> None:
    item = one(job)
    assert item.finding["version"] == 2
    kept(item, facts={"shape": "another"})
    assert planned(job) == [(item.rule, "ok", "ok")]
    del item.finding["version"]
    item.save()
    assert recheck_plan(job) == []


def test_facts_of_another_version_that_say_the_same_carry_their_answers(shop, job) -> None:
    item = one(job)
    of_version(item)
    item_observe(shop.member, item=item, outcome=Outcome.OK)
    assert recheck_plan(job) == []
    assert answers_carry(job.id) == 1
    (row,) = carried(job)
    assert (row.item_id, row.fingerprint) == (item.id, OLDER)
    fresh = one(job)
    assert fresh.fingerprint == OLDER
    assert fresh.finding["facts"] != {"shape": "another"}
    assert fresh.finding["version"] == row.rule_version != 99
    assert (fresh.position, fresh.found_later) == (item.position, item.found_later)
    assert line_of(fresh).standing == Standing.OK
    assert answers_carry(job.id) == 0
    assert carried(job) == [row]
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    assert one(job).fingerprint == OLDER
    assert line_of(one(job)).standing == Standing.OK


def test_what_says_the_same_as_before_carries_nothing(job) -> None:
    assert answers_carry(job.id) == 0
    assert carried(job) == []


def test_what_newer_rules_say_otherwise_is_not_carried_and_hides_nothing_after_it(job) -> None:
    first, second = job.items.filter(rule="wide-box-support").order_by("position")
    of_version(first)
    of_version(second)
    Item.objects.filter(id=first.id).update(verdict=Verdict.INFO_NEEDED)
    assert answers_carry(job.id) == 1
    (row,) = carried(job)
    assert row.item_id == second.id
    first.refresh_from_db()
    assert (first.verdict, first.finding["version"]) == (Verdict.INFO_NEEDED, 99)


def test_a_job_is_of_older_rules_until_its_answers_were_looked_at(shop, job) -> None:
    bare = shop.job("Lot 16")
    shop.own(JobStanding).update(rules="older")
    assert jobs_by_older_rules() == [job.id]
    assert answers_carry(bare.id) == 0
    answers_carry(job.id)
    assert jobs_by_older_rules() == []
    assert set(shop.own(JobStanding).values_list("rules", flat=True)) == {rules_digest()}


def test_the_office_takes_what_newer_rules_say_and_the_record_says_so(
    shop, job, stranger_shop
) -> None:
    item = one(job)
    Item.objects.filter(id=item.id).update(verdict=Verdict.NOT_TO_CODE)
    shop.own(JobStanding).update(rules="older")
    for person in (shop.lead, shop.member, shop.builder, stranger_shop.office):
        with pytest.raises(NotAllowed):
            house_recheck(person, job=job)
    says = house_recheck(shop.office, job=job)
    assert [(each.was, each.now) for each in says] == [("not_to_code", "ok")]
    assert one(job).verdict == Verdict.OK
    assert not one(job).found_later
    assert job.standing.rules == rules_digest()
    entry = job.record.get(action="house rechecked by newer rules")
    recorded = job.record.get(action="house recorded")
    assert (entry.detail["revision"], entry.detail["otherwise"]) == (1, 1)
    assert entry.detail["items"] == recorded.detail["items"]
    assert house_recheck(shop.office, job=job) == []


def test_a_job_without_a_house_is_not_rechecked(shop) -> None:
    bare = shop.job("Lot 16")
    before = bare.record.count()
    assert house_recheck(shop.office, job=bare) == []
    assert bare.record.count() == before


def test_what_newer_rules_fail_is_found_later_where_it_is_released_and_holds_elsewhere(
    shop,
) -> None:
    job = shop.roughed_in(tiny(braces=0))
    failing = job.items.get(rule="wide-box-support", verdict=Verdict.NOT_TO_CODE)
    Item.objects.filter(id=failing.id).update(verdict=Verdict.OK)
    house_recheck(shop.office, job=job)
    failing.refresh_from_db()
    assert (failing.verdict, failing.found_later) == (Verdict.NOT_TO_CODE, False)


def test_what_a_newer_rule_found_later_is_not_so_any_more_once_it_complies(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    item = the_first(job.items.filter(area=area, workmanship=False, verdict=Verdict.OK))
    shop.release(area)
    Item.objects.filter(id=item.id).update(verdict=Verdict.NOT_TO_CODE, found_later=True)
    house_recheck(shop.office, job=job)
    item.refresh_from_db()
    assert (item.verdict, item.found_later) == (Verdict.OK, False)

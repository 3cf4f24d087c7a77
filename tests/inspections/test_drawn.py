"""A drawing is not a wall: what hands make waits for somebody on site, whatever is drawn of it."""

import pytest
from django.core.exceptions import ValidationError

from inspections.checker.finding import Verdict, rules
from inspections.models import AreaStanding, Item, JobStanding, Outcome
from inspections.selectors import checklist, line_of
from inspections.services.houses import house_record
from inspections.services.observations import item_observe, observation_undo
from inspections.services.rechecks import house_recheck
from inspections.services.settling import job_settle
from inspections.standing.holds import Standing
from jobs.models import Job
from tests.inspections.tiny import HOUSES, tiny
from tests.sure import the_first

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


def says(area) -> list[str]:
    return [hold["reason"] for hold in AreaStanding.objects.get(area=area).holds]


def of_before(job) -> None:
    """The items as they are in a database from before rules told workmanship from design."""
    job.items.update(workmanship=False)


def by_hand(job: Job, rule: str = "box-support") -> Item:
    found = job.items.filter(rule=rule, verdict=Verdict.OK, area__code="east", current=True)
    return the_first(found.select_related("job__shop"))


def test_of_a_house_that_complies_nothing_is_ready_while_nobody_was_on_site(job) -> None:
    assert not job.items.exclude(verdict__in=[Verdict.OK, Verdict.VERIFY]).exists()
    for area in job.areas.all():
        assert says(area) == ["open", "open", "acceptance"]
    job_settle(job.id)
    assert JobStanding.objects.get(job=job).stage == "rough-in"


def test_looking_at_what_needs_eyes_is_not_enough(shop, job) -> None:
    for item in job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN):
        item_observe(shop.member, item=item, outcome=Outcome.OK)
    for area in job.areas.all():
        assert says(area) == ["open", "acceptance"]
    for area in job.areas.all():
        shop.confirm(area)
        assert says(area) == ["acceptance"]


def test_design_is_ok_by_its_figures_and_hands_by_a_look(shop, job) -> None:
    for line in checklist(job):
        if line.item.verdict != Verdict.OK:
            continue
        workmanship = rules()[line.item.rule].workmanship
        assert line.item.workmanship is workmanship
        assert line.standing is (Standing.OPEN if workmanship else Standing.OK)
    item = by_hand(job)
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert line_of(item).standing is Standing.OK


def test_a_look_is_of_the_facts_that_were_seen(shop, job) -> None:
    item = job.items.get(rule="wide-box-support", subject="east-wide")
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    house_record(shop.lead, job=job, house=tiny(braces=2))
    item.refresh_from_db()
    assert item.verdict == Verdict.OK
    assert line_of(item).standing is Standing.OPEN


def test_a_fix_by_mistake_leaves_the_drawing_unconfirmed(shop, job) -> None:
    """Undoing is no look: it goes back to what somebody saw before, and nobody had."""
    item = by_hand(job)
    mistaken = item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    with pytest.raises(ValidationError, match="was not OK before"):
        observation_undo(shop.lead, observation=mistaken)
    assert line_of(item).standing is Standing.FIX


def test_what_was_released_before_stays_released_by_the_same_house(shop, job) -> None:
    of_before(job)
    for area in job.areas.all():
        shop.release(area)
    house_recheck(shop.office, job=job)
    house_record(shop.lead, job=job, house=HOUSES["clean"])
    house_recheck(shop.office, job=job)
    assert [standing.released for standing in AreaStanding.objects.filter(area__job=job)] == [
        True,
        True,
    ]
    assert not job.items.filter(workmanship=True).exists()


def test_of_a_job_of_before_what_changes_waits_for_the_site(shop, job) -> None:
    of_before(job)
    for area in job.areas.all():
        shop.release(area)
    house_record(shop.lead, job=job, house=tiny(braces=2))
    (changed,) = job.items.filter(workmanship=True, current=True)
    assert (changed.rule, changed.subject) == ("wide-box-support", "east-wide")
    east, west = job.areas.order_by("code")
    assert says(east) == ["open", "changed"]
    assert AreaStanding.objects.get(area=west).released


def test_what_a_newer_rule_finds_of_hands_where_it_is_covered_holds_nothing(shop, job) -> None:
    item = by_hand(job)
    item.delete()  # as if no rule had found it
    for area in job.areas.all():
        shop.release(area)
    for _ in range(2):
        house_recheck(shop.office, job=job)
        found = job.items.get(rule=item.rule, subject=item.subject)
        assert (found.workmanship, found.found_later) == (True, True)
        assert AreaStanding.objects.get(area=found.area).released

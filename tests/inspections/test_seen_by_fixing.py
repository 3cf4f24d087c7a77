"""Whoever corrects a fact has seen what it settles: those lines, all of them, and no other."""

from typing import Any
from uuid import uuid4

import pytest
from django.db.models import QuerySet
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.checker.house.fixes import Fix, FixKind
from inspections.models import Given, Item, Observation
from inspections.selectors import latest_revision
from inspections.services.fact_corrections import CorrectedFact, fact_correct
from inspections.services.seen_by_fixing import Fixed, confirm_fixed, fixed_by
from tests.inspections.tiny import HOUSES
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db
BRACES = ("boxes", "east-wide", "braces")
ELSEWHERE = ("boxes", "west-wide", "braces")


@pytest.fixture
def job(shop, stranger_shop):
    stranger_shop.roughed_in(HOUSES["short"])
    return shop.roughed_in(HOUSES["short"])


def supported(job, box: str) -> Item:
    found: QuerySet[Item] = job.items.filter(rule="wide-box-support", subject=box)
    return the_first(found)


def looks(job) -> list[tuple[str, str]]:
    made = Observation.objects.filter(item__job=job, given=Given.FIXED)
    return sorted(made.values_list("item__rule", "item__subject"))


def fixed(subject: str, path: tuple[str, ...], rule: str = "wide-box-support") -> Fixed:
    return Fixed(rule, subject, Fix(path, FixKind.COUNT))


def confirm(shop, job, *found: Fixed, value: Any = 1) -> None:
    seen_at = timezone.now()
    confirm_fixed(shop.member, job, found, BRACES, value, "", seen_at)


def test_what_a_fact_could_settle_is_found_beside_lines_of_an_older_program(shop, job) -> None:
    revision = sure(latest_revision(job))
    before = fixed_by(job, revision, [BRACES])
    assert [(each.rule, each.subject) for each in before] == [("wide-box-support", "east-wide")]
    assert fixed_by(job, revision, [ELSEWHERE]) == []
    for rule in ("a-rule-of-before", "zz-rule-of-before"):
        item = supported(job, "east-wide")
        item.id, item.rule = uuid4(), rule
        item.save(force_insert=True)
    assert fixed_by(job, revision, [BRACES]) == before


def test_a_correction_is_a_look_at_what_it_settles_alone(shop, job) -> None:
    change = CorrectedFact(BRACES, 0, 1)
    fact_correct(shop.member, job=job, correction_id=uuid4(), base=1, changes=[change])
    assert looks(job) == [("wide-box-support", "east-wide")]
    (look,) = supported(job, "east-wide").observations.all()
    assert (look.seen_by, look.measured_mm, look.measured_typed) == (shop.member, None, "")


def test_lines_of_other_facts_are_passed_over_and_those_after_them_seen(shop, job) -> None:
    assert supported(job, "west-wide").verdict == Verdict.OK
    confirm(shop, job, fixed("east-wide", ELSEWHERE), fixed("west-wide", BRACES))
    assert looks(job) == [("wide-box-support", "west-wide")]


def test_lines_that_are_not_settled_are_passed_over_and_those_after_them_seen(shop, job) -> None:
    gone = fixed("no-box", BRACES)
    not_to_code = fixed("east-wide", BRACES)
    confirm(shop, job, gone, not_to_code, fixed("west-wide", BRACES))
    assert looks(job) == [("wide-box-support", "west-wide")]


@pytest.mark.parametrize(
    "otherwise",
    [{"workmanship": False}, {"current": False}, {"verdict": Verdict.VERIFY}],
)
def test_what_hands_do_not_make_or_is_not_ok_is_not_seen_by_it(shop, job, otherwise) -> None:
    job.items.filter(rule="wide-box-support", subject="west-wide").update(**otherwise)
    confirm(shop, job, fixed("west-wide", BRACES))
    assert looks(job) == []


@pytest.mark.parametrize(
    ("fix", "value", "figure"),
    [
        (Fix(BRACES, FixKind.LENGTH, least=150.0, taped=True), 160, 160.0),
        (Fix(BRACES, FixKind.LENGTH, least=150.0, taped=True), "160", None),
        (Fix(BRACES, FixKind.LENGTH, least=150.0), 160, None),
        (Fix(BRACES, FixKind.LENGTH, least=140.0, taped=True), 160, None),
        (Fix(BRACES, FixKind.LENGTH, least=150.0, most=900.0, taped=True), 160, None),
    ],
)
def test_a_figure_is_kept_where_it_is_what_the_tape_of_the_line_measures(
    shop, job, fix, value, figure
) -> None:
    item = supported(job, "west-wide")
    job.items.filter(id=item.id).update(measure_what="free", measure_min_mm=150)
    found = [Fixed(item.rule, item.subject, fix)]
    confirm_fixed(shop.member, job, found, BRACES, value, "160 mm", timezone.now())
    (look,) = item.observations.all()
    assert look.measured_mm == figure
    assert look.measured_typed == ("160 mm" if figure else "")


def test_a_correction_by_the_office_is_not_seen_on_site(shop) -> None:
    """A correction by the office stays OK on plan; one by the lead on site is OK on site."""
    job = shop.roughed_in(HOUSES["short"])
    found = fixed_by(job, sure(latest_revision(job)), [BRACES])
    assert found
    value = next(each.fix.least for each in found)
    change = CorrectedFact(BRACES, 0, value)
    for actor, seen in ((shop.office, 0), (shop.lead, 1)):
        again = shop.roughed_in(HOUSES["short"])
        fact_correct(actor, job=again, correction_id=uuid4(), base=1, changes=[change])
        assert Observation.objects.filter(item__job=again, given=Given.FIXED).count() == seen

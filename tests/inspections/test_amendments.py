"""What a shop sets otherwise than a rulebook: who, why, from when on, and what is checked by it."""

import pytest
from django.core.exceptions import ValidationError
from django.db import DatabaseError, transaction

from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import RulebookFault, rulebook_ids
from inspections.houses.amendments import (
    amendable,
    amendments_of,
    checked_otherwise,
    limit_value_typed,
    rulebook_of_shop,
    shop_overlay,
    text_of,
)
from inspections.models import Amendment
from inspections.services.amendments import house_check_again, limit_amend, limit_restore
from inspections.services.houses import house_record
from jobs.access import NotAllowed

pytestmark = pytest.mark.django_db
BOOK, LIMIT = "cec-2021", "counter-receptacles.min_width_mm"


def amend(shop, value=254, **given):
    given = {"rulebook": BOOK, "limit": LIMIT, "unit": "mm", "reason": "by-law 12"} | given
    return limit_amend(shop.office, shop=shop.shop, value=value, **given)


def test_an_amendment_stands_with_who_and_why(shop, stranger_shop) -> None:
    made = amend(shop)
    assert amendments_of(shop.shop, BOOK) == {LIMIT: made}
    limit = rulebook_of_shop(shop.shop, BOOK)[LIMIT]
    assert (limit.value, limit.reason, limit.amended) == (254, "by-law 12", True)
    assert made.made_by == shop.office
    assert shop_overlay(stranger_shop.shop, BOOK) == ""
    assert shop_overlay(shop.shop, "cec-2024") == ""


def test_a_later_one_supersedes_and_both_stay(shop) -> None:
    amend(shop)
    amend(shop, 10, unit="in", reason="by-law 13")
    assert rulebook_of_shop(shop.shop, BOOK)[LIMIT].value == 254
    limit_restore(shop.office, shop=shop.shop, rulebook=BOOK, limit=LIMIT, reason="repealed")
    assert not rulebook_of_shop(shop.shop, BOOK)[LIMIT].amended
    assert [each.value for each in shop.own(Amendment)] == [254, 10, None]
    with pytest.raises(ValidationError, match="already as the code has it"):
        limit_restore(shop.office, shop=shop.shop, rulebook=BOOK, limit=LIMIT, reason="again")


def test_what_was_amended_is_neither_edited_nor_deleted(shop) -> None:
    made = amend(shop)
    for change in (made.delete, lambda: shop.own(Amendment).update(reason="else")):
        with pytest.raises(DatabaseError), transaction.atomic():
            change()
    assert shop.own(Amendment).get().reason == "by-law 12"


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"value": -1}, "value: must be a number from 0 up"),
        ({"value": "wide"}, "value: must be a number"),
        ({"unit": "V"}, "unit: must be 'mm'"),
        ({"limit": "counter-receptacles.colour"}, "has no limit"),
        ({"rulebook": "cec-1900"}, "no rulebook 'cec-1900'"),
        ({"reason": "  "}, "Enter why"),
    ],
)
def test_what_cannot_be_amended_so_is_said_and_not_written(shop, given, words) -> None:
    with pytest.raises(ValidationError) as refused:
        amend(shop, **given)
    assert words in " ".join(refused.value.messages)
    assert not shop.own(Amendment).exists()


def test_only_the_office_amends(shop, stranger_shop) -> None:
    for person in (shop.lead, shop.builder, stranger_shop.office):
        with pytest.raises(NotAllowed):
            limit_amend(
                person,
                shop=shop.shop,
                rulebook=BOOK,
                limit=LIMIT,
                value=254,
                unit="mm",
                reason="mine",
            )


def test_a_house_keeps_what_stood_until_it_is_checked_again(shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    first = job.revisions.get()
    assert first.amendments == ""
    limit = "box-fill.device_yoke" if first.rulebook.startswith("nec") else "box-fill.strap"
    assert load_rulebook(first.rulebook).get(limit), limit
    before = {item.id: item.fingerprint for item in job.items.filter(rule="box-fill")}
    amend(shop, 3, rulebook=first.rulebook, limit=limit, unit="conductors", reason="shop's habit")
    assert {item.id: item.fingerprint for item in job.items.filter(rule="box-fill")} == before
    assert checked_otherwise(job) == first
    again = house_check_again(shop.lead, job=job)
    assert (again.number, again.house) == (2, first.house)
    assert "shop's habit" in again.amendments
    assert {item.id: item.fingerprint for item in job.items.filter(rule="box-fill")} != before
    assert checked_otherwise(job) is None
    with pytest.raises(ValidationError, match="by the current amendments"):
        house_check_again(shop.lead, job=job)


def test_a_house_that_is_recorded_now_is_checked_by_them(shop, house_bytes) -> None:
    amend(shop, rulebook="cec-2021")
    amend(shop, rulebook="nec-2023", value=200)
    job = shop.roughed_in(house_bytes)
    revision = house_record(shop.lead, job=job, house=house_bytes, rulebook="nec-2023")
    assert "200" in revision.amendments
    with pytest.raises(RulebookFault):
        house_record(shop.lead, job=job, house=house_bytes, rulebook="nec-1900")


@pytest.mark.parametrize("book", rulebook_ids())
def test_every_limit_reads_back_what_it_shows(book: str) -> None:
    limits = load_rulebook(book).limits.values()
    assert sum(map(amendable, limits)) > 0.9 * len(limits)
    for limit in filter(amendable, limits):
        assert limit_value_typed(limit, text_of(limit)) == pytest.approx(limit.value), limit.name


@pytest.mark.parametrize(("kind", "text"), [(1.0, "x"), (True, "1"), ({"14": 1.0}, "14 x")])
def test_a_value_that_cannot_be_read_says_what_is_wanted(kind, text) -> None:
    limit = next(
        limit
        for limit in load_rulebook(BOOK).limits.values()
        if type(limit.value) is type(kind) or (kind == 1.0 and limit.name == LIMIT)
    )
    with pytest.raises(ValueError, match=r"yes or no|is not a number"):
        limit_value_typed(limit, text)


@pytest.mark.django_db
@pytest.mark.parametrize("value", [[None, "a"], {"a": None}, [[{"b": [None]}]]])
def test_a_value_that_no_rulebook_can_hold_is_refused_in_words(shop, value) -> None:
    given = {"limit": "counter-receptacles.min_width_mm", "unit": "mm", "reason": "by-law 12"}
    with pytest.raises(ValidationError, match="Enter a number, yes or no"):
        limit_amend(shop.office, shop=shop.shop, rulebook="cec-2021", value=value, **given)

"""The days on which a shop works: its own holidays, or those where its authorities are."""

from datetime import date

import pytest

from inspections.days.problem import shop_calendar, work_rules
from jobs.models import Authority, WorkRules

pytestmark = pytest.mark.django_db
CHRISTMAS, FAMILY_DAY, LABOUR_DAY = date(2026, 12, 25), date(2026, 2, 16), date(2026, 9, 7)


def works(shop, day: date) -> bool:
    return shop_calendar(work_rules(shop.shop)).is_open(day)


def place(shop, country: str, region: str = "") -> None:
    Authority.objects.create(
        shop=shop.shop, name=f"{country}{region}", country=country, region=region
    )


def test_with_nothing_known_only_weekends_are_free(shop) -> None:
    assert works(shop, CHRISTMAS)
    assert not works(shop, date(2026, 12, 26))


def test_a_shop_keeps_the_holidays_of_where_its_authority_is(shop) -> None:
    place(shop, "CA", "AB")
    assert [works(shop, day) for day in (CHRISTMAS, FAMILY_DAY)] == [False, False]


def test_authorities_of_two_regions_leave_the_holidays_of_the_country(shop) -> None:
    place(shop, "CA", "AB")
    place(shop, "CA", "NL")
    assert [works(shop, day) for day in (LABOUR_DAY, FAMILY_DAY)] == [False, True]


def test_authorities_of_two_countries_say_nothing(shop) -> None:
    place(shop, "CA", "AB")
    place(shop, "US", "WA")
    assert works(shop, CHRISTMAS)


def test_what_the_shop_sets_itself_goes_first(shop) -> None:
    place(shop, "CA", "AB")
    WorkRules.objects.create(shop=shop.shop, country="US", region="WA")
    assert [works(shop, day) for day in (CHRISTMAS, FAMILY_DAY)] == [
        False,
        False,
    ]  # Presidents' Day
    assert works(shop, date(2026, 8, 3))

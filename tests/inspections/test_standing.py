"""Where an item stands, in SQL as by a plain reading of the rule, over looks of every kind.

The reading below is written apart from `answering.py` and from the SQL: it is the rule as people
say it, look by look, without any short cut.
"""

from datetime import UTC, datetime, timedelta
from typing import TypedDict

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inspections.conclusions.items import items_with_seen, looked, standing_of
from inspections.models import Item, Observation
from jobs.models import Area, Person
from tests.lengths import examples

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 9, 17, tzinfo=UTC)
CLOSE = [NOW + timedelta(microseconds=n) for n in range(2)]
MOMENTS = [
    datetime(1, 1, 1, tzinfo=UTC),
    datetime(2000, 1, 1, tzinfo=UTC),
    *[NOW - timedelta(minutes=n) for n in (90, 60, 30)],
    *CLOSE,
    datetime(2099, 12, 31, 23, 59, 59, 999_999, tzinfo=UTC),
]
"""Few, so that many are equal; and those that a clock gone wild tells."""
LIMITS = [(None, None), (150.0, None), (None, 6.35), (10.0, 20.0), (None, 0.0)]
FIGURES = [None, None, 0.0, 6.35, 10.0, 149.999, 150.0, 1e308]
VERDICTS = ["ok", "verify", "not_to_code", "info_needed"]
NOW_FACTS, OTHER_FACTS = "a" * 16, "b" * 16

LOOK = st.fixed_dictionaries(
    {
        "outcome": st.sampled_from(["ok", "ok", "na", "fix", "cant_see"]),
        "measured_mm": st.sampled_from(FIGURES),
        "seen_at": st.sampled_from(MOMENTS),
        "recorded_at": st.sampled_from(MOMENTS),
        "known_at": st.sampled_from([None, *MOMENTS]),
        "stale": st.sampled_from([False, False, False, True]),
        "fingerprint": st.sampled_from([NOW_FACTS, NOW_FACTS, NOW_FACTS, OTHER_FACTS]),
        "by": st.integers(0, 1),
    }
)
ITEM = st.tuples(
    st.sampled_from(VERDICTS), st.booleans(), st.sampled_from(LIMITS), st.lists(LOOK, max_size=6)
)

Limits = tuple[float | None, float | None]
"""The least and the most that a tape may show, in mm."""


class Look(TypedDict):
    """A look as it stands in the table, `by` being the place of its maker in a list."""

    outcome: str
    measured_mm: float | None
    seen_at: datetime
    recorded_at: datetime
    known_at: datetime | None
    stale: bool
    fingerprint: str
    by: int


Drawn = tuple[str, bool, Limits, list[Look]]
"""An item: its verdict, whether hands make it, its limits and its looks."""


def plainly(verdict: str, workmanship: bool, limits: Limits, looks: list[Look]) -> tuple[str, bool]:
    """The standing, and whether it is contested, as the rule says it.

    It stands as "na" where the last that anybody said of what passed is that it does not apply.
    """
    counted = [look for look in looks if not look["stale"] and look["fingerprint"] == NOW_FACTS]
    fails = [look for look in counted if seen(look, limits) == "fix"]
    absents = [look for look in counted if seen(look, limits) == "cant_see"]
    oks = [look for look in counted if seen(look, limits) == "ok"]
    passes = [*oks, *(look for look in counted if seen(look, limits) == "na")]
    failing = [look for look in fails if not any(answers(p, look) for p in oks)]
    missing = [look for look in absents if not any(answers(p, look) for p in passes)]
    against = failing or missing
    contested = any(disputes(p, look) for look in against for p in passes)
    last = max(passes, key=order, default=None)
    if verdict == "info_needed":
        return "info_needed", contested
    if verdict == "not_to_code" or failing:
        return "fix", contested
    if missing:
        return "open", contested
    if last is not None and last["outcome"] == "na":
        return "na", contested
    passed = bool(passes) or (verdict == "ok" and not workmanship)
    return ("ok" if passed else "open"), contested


def seen(look: Look, limits: Limits) -> str:
    least, most = limits
    figure = look["measured_mm"]
    if look["outcome"] == "na" and limits != (None, None):
        return "cant_see"
    if look["outcome"] == "ok" and figure is not None:
        if least is not None and figure < least:
            return "fix"
        if most is not None and figure > most:
            return "fix"
    return look["outcome"]


def claimed(look: Look) -> datetime:
    return min(look["seen_at"], look["recorded_at"])


def known(look: Look) -> datetime:
    return min(look["known_at"] or look["recorded_at"], look["recorded_at"])


def order(look: Look) -> tuple[datetime, datetime, bool]:
    """Of passes the last one counts; of two of one moment the N/A."""
    return claimed(look), look["recorded_at"], look["outcome"] == "na"


def answers(passed: Look, against: Look) -> bool:
    later_made = claimed(passed) > claimed(against)
    later_come = passed["recorded_at"] > against["recorded_at"]
    knew = known(passed) >= against["recorded_at"]
    return later_made and later_come and knew


def disputes(passed: Look, against: Look) -> bool:
    lifts = passed["outcome"] == "ok" or against["outcome"] == "cant_see"
    if lifts and answers(passed, against):
        return False
    later_made = claimed(passed) > claimed(against)
    later_come = passed["recorded_at"] > against["recorded_at"]
    knew = known(passed) >= against["recorded_at"]
    was_known = known(against) >= passed["recorded_at"]
    return later_made or later_come or not (knew or was_known)


@pytest.fixture
def area(shop) -> Area:
    return Area.objects.create(job=shop.job(), code="east", name="East")


def written(area: Area, people: list[Person], drawn: list[Drawn]) -> list[Item]:
    """Items with their looks, as they might stand in the tables."""
    items, looks = [], []
    for number, (verdict, workmanship, (least, most), seen_of_it) in enumerate(drawn):
        item = Item(
            job=area.job,
            area=area,
            rule="free-conductors",
            subject=f"room:{number}",
            verdict=verdict,
            workmanship=workmanship,
            fingerprint=NOW_FACTS,
            finding={"title": "Free conductor in boxes"},
            measure_min_mm=least,
            measure_max_mm=most,
        )
        items.append(item)
        for look in seen_of_it:
            looks.append(
                Observation(
                    item=item,
                    seen_by=people[look["by"]],
                    outcome=look["outcome"],
                    measured_mm=look["measured_mm"],
                    seen_at=look["seen_at"],
                    recorded_at=look["recorded_at"],
                    known_at=look["known_at"],
                    stale=look["stale"],
                    fingerprint=look["fingerprint"],
                    note="none in this house",
                )
            )
    Item.objects.bulk_create(items)
    Observation.objects.bulk_create(looks)
    return items


def stands(item: Item, seen_of_it: str | None) -> str:
    """Where an item stands, N/A apart from OK."""
    standing = standing_of(item.verdict, seen_of_it, item.workmanship)
    if standing == "ok" and seen_of_it == "na":
        return "na"
    return standing


def compare(area: Area, people: list[Person], drawn: list[Drawn]) -> None:
    """The SQL, the code of the pages and the plain reading, item by item."""
    with transaction.atomic():
        items = written(area, people, drawn)
        fresh = items_with_seen(Item.objects.filter(area=area)).in_bulk()
        for item, one in zip(items, drawn, strict=True):
            standing, contested = plainly(*one)
            by_sql = fresh[item.id]
            assert stands(by_sql, by_sql.seen) == standing, one
            shown = looked(item, item.observations.filter(stale=False))
            assert stands(item, shown.seen) == standing, one
            assert bool(shown.contest) == contested, one
        transaction.set_rollback(True)


def test_sql_and_pages_say_what_the_rule_says_of_any_looks(shop, area) -> None:
    people = [shop.lead, shop.member]
    options = settings(
        examples(50, 3_000, shrink=False),
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )

    @options
    @given(st.lists(ITEM, min_size=8, max_size=24))
    def tried(drawn: list[Drawn]) -> None:
        compare(area, people, drawn)

    tried()


def look(
    outcome: str,
    made: int,
    came: int,
    known: int | None = None,
    *,
    measured_mm: float | None = None,
    stale: bool = False,
    fingerprint: str = NOW_FACTS,
) -> Look:
    """A look made and got so many minutes after NOW, its maker shown what there was at `known`."""
    return Look(
        outcome=outcome,
        measured_mm=measured_mm,
        seen_at=NOW + timedelta(minutes=made),
        recorded_at=NOW + timedelta(minutes=came),
        known_at=None if known is None else NOW + timedelta(minutes=known),
        stale=stale,
        fingerprint=fingerprint,
        by=0,
    )


FAIL = look("fix", 60, 60)
SAID = [
    ("nobody looked", [], "open", False),
    ("a fail alone", [FAIL], "fix", False),
    ("passed after it", [FAIL, look("ok", 90, 90)], "ok", False),
    ("a pass of 9:00 that syncs at 11:00", [FAIL, look("ok", 0, 120, -60)], "fix", True),
    ("a pass of 9:00 that was there at 10:00", [look("ok", 0, 0), FAIL], "fix", False),
    ("a pass that says 2099", [look("ok", 10**7, 0), FAIL], "fix", False),
    ("made after it by somebody who knew not", [FAIL, look("ok", 90, 120, 30)], "fix", True),
    ("made after it and came before", [look("ok", 55, 50), FAIL], "fix", False),
    ("neither knew", [look("ok", 20, 20), look("fix", 60, 60, 0)], "fix", True),
    ("absent, and seen since", [look("cant_see", 0, 0), look("ok", 9, 9)], "ok", False),
    ("absent after a pass", [look("ok", 0, 0), look("cant_see", 9, 9)], "open", False),
    ("absent and failing", [FAIL, look("cant_see", 90, 90)], "fix", False),
    ("stale", [FAIL, look("ok", 90, 90, stale=True)], "fix", False),
    ("of other facts", [FAIL, look("ok", 90, 90, fingerprint=OTHER_FACTS)], "fix", False),
    ("too short by its own tape", [look("ok", 0, 0, measured_mm=10.0)], "fix", False),
    ("too short, answering", [FAIL, look("ok", 90, 90, measured_mm=10.0)], "fix", False),
    ("long enough", [FAIL, look("ok", 90, 90, measured_mm=150.0)], "ok", False),
    ("measured, and failed", [look("fix", 0, 0, measured_mm=180.0)], "fix", False),
]
NA = look("na", 90, 90)
SAID_OF_NA = [
    ("N/A alone", [NA], "na", False),
    ("N/A after a fail", [FAIL, NA], "fix", True),
    ("N/A before a fail", [look("na", 0, 0), FAIL], "fix", False),
    ("N/A after a fail, and OK since", [FAIL, NA, look("ok", 95, 95)], "ok", False),
    ("OK after a fail, and N/A since", [FAIL, look("ok", 80, 80), NA], "na", False),
    ("N/A after absent", [look("cant_see", 60, 60), NA], "na", False),
    ("N/A before absent", [NA, look("cant_see", 95, 95)], "open", False),
    (
        "unaware of absent",
        [look("cant_see", 60, 60), look("na", 90, 90, 30)],
        "open",
        True,
    ),
    ("N/A, then seen", [NA, look("ok", 95, 95)], "ok", False),
    ("seen, then N/A", [look("ok", 0, 0), NA], "na", False),
    ("N/A of other facts", [look("na", 0, 0, fingerprint=OTHER_FACTS)], "open", False),
    ("stale N/A", [look("na", 0, 0, stale=True)], "open", False),
    ("neither knew", [look("na", 20, 20), look("fix", 60, 60, 0)], "fix", True),
]


@pytest.mark.parametrize(
    ("looks", "standing", "contested"),
    [row[1:] for row in SAID_OF_NA],
    ids=[row[0] for row in SAID_OF_NA],
)
def test_what_na_comes_to_beside_other_looks(
    shop, area, looks: list[Look], standing: str, contested: bool
) -> None:
    drawn: list[Drawn] = [("verify", False, (None, None), looks), ("ok", True, (None, None), looks)]
    for each in drawn:
        assert plainly(*each) == (standing, contested)
    compare(area, [shop.lead, shop.member], drawn)


@pytest.mark.parametrize("verdict", ["not_to_code", "info_needed"])
def test_na_settles_nothing_that_the_figures_leave(shop, area, verdict: str) -> None:
    stands_as = {"not_to_code": "fix", "info_needed": "info_needed"}[verdict]
    drawn: list[Drawn] = [(verdict, False, (None, None), [NA])]
    assert plainly(*drawn[0]) == (stands_as, False)
    compare(area, [shop.lead, shop.member], drawn)


def test_na_settles_nothing_that_is_measured(shop, area) -> None:
    for limits in ((150.0, None), (None, 6.35)):
        drawn: list[Drawn] = [("verify", False, limits, [NA]), ("ok", True, limits, [NA])]
        for each in drawn:
            assert plainly(*each) == ("open", False)
        drawn.append(("verify", False, limits, [NA, look("ok", 95, 95)]))
        compare(area, [shop.lead, shop.member], drawn)


@pytest.mark.parametrize(
    ("looks", "standing", "contested"), [row[1:] for row in SAID], ids=[row[0] for row in SAID]
)
def test_what_looks_come_to(shop, area, looks: list[Look], standing: str, contested: bool) -> None:
    drawn: list[Drawn] = [("verify", False, (150.0, None), looks)]
    drawn.append(("ok", True, (150.0, None), looks))
    for each in drawn:
        assert plainly(*each) == (standing, contested)
    compare(area, [shop.lead, shop.member], drawn)

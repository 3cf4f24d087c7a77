"""Every falsification of the tables is found, and nothing else is."""

import pytest

from audit.auditor import audit_jobs
from audit.crossings import crossings_of_shop
from audit.found import Sort
from jobs.models import Shop
from tests.audit import holes_of_cover, holes_of_na, holes_of_people, holes_of_record
from tests.audit.audited import audited
from tests.audit.holes import HOLES, Hole
from tests.audit.world import World

pytestmark = pytest.mark.django_db
MODULES = (holes_of_cover, holes_of_na, holes_of_people, holes_of_record)


def test_nothing_is_false_in_the_world(falsified: World) -> None:
    assert audited() == []


@pytest.mark.parametrize("hole", HOLES, ids=[hole.name for hole in HOLES])
def test_it_is_found(falsified: World, hole: Hole) -> None:
    hole.put(falsified)
    falsified.clock.now += hole.later
    found = [line for shop in Shop.objects.all() for line in crossings_of_shop(shop.id)]
    found += audit_jobs([job.id for job in falsified.jobs])
    told = [line.line() for line in found if line.sort is hole.sort]
    assert any(hole.says in line for line in told), "\n".join(told)
    if hole.sort is Sort.STATE:
        assert [line.line() for line in found if line.sort is Sort.DIFFERENCE] == []

"""One world for all falsifications of a module: each test of it is rolled back to it."""

from collections.abc import Iterator

import pytest
from django.db import transaction

from audit import auditor
from tests.audit.world import BEGIN, World, world
from tests.clock import Clock


@pytest.fixture(scope="module")
def built(django_db_setup, django_db_blocker, request: pytest.FixtureRequest) -> Iterator[World]:
    """The world, made once."""
    jobs = 200 if request.config.getoption("--whole") else 6
    with django_db_blocker.unblock(), pytest.MonkeyPatch.context() as patch:
        clock = Clock(BEGIN).put(patch)
        patch.setattr(auditor, "refused_since", lambda: BEGIN)
        with transaction.atomic():
            yield world(clock, jobs)
            transaction.set_rollback(True)


@pytest.fixture
def falsified(built: World, db) -> World:
    """The world as it was made, for one test to falsify."""
    from tests.audit.world import AUDITED

    built.clock.now = AUDITED
    return built

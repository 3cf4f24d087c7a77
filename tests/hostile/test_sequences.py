"""Ten thousand random sequences of calls on every face: nothing false gets through, nothing breaks.

`make proof` plays all of them, a quarter on PostgreSQL, `make test` a hundredth. A sequence begins
with a job in some state, goes on with calls of the API and of pages by people of the shop, by
strangers and by whoever holds a link, with hostile moments, days, measures, texts and ids, while
the clock is set and beat and worker come or do not. After each call and at the end `checks.py`
looks.
"""

import random
import time

import pytest
from hypothesis import HealthCheck, Phase, Verbosity, given, seed, settings
from hypothesis import strategies as st

from jobs.models import Membership, Role
from tests.conftest import ON_POSTGRESQL
from tests.hostile import calls_any, checks
from tests.hostile.fields import FIELDS
from tests.hostile.playing import Play, undone
from tests.hostile.scene import Call
from tests.hostile.world import OWN

SHARDS, IN_ALL = 4, 10_000
HERE = (3,) if ON_POSTGRESQL else (0, 1, 2)
"""Which shards are played on this database: one of four on PostgreSQL, where one costs double."""
PART = 100  # `make test` plays one in so many
BEGUN_WITH = 20_261_132

MOST_ROUNDS = 4
pytestmark = [pytest.mark.django_db, pytest.mark.alone]  # they have a stranger of their own


@pytest.mark.parametrize("shard", HERE)
def test_no_sequence_of_calls_gets_anything_false_through(
    play: Play, shard: int, whole: bool, capsys
) -> None:
    broken: list[str] = []
    count = IN_ALL // SHARDS // (1 if whole else PART)

    @seed(BEGUN_WITH + shard)
    @settings(
        max_examples=count,
        phases=[Phase.generate],
        derandomize=False,
        verbosity=Verbosity.quiet,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.randoms(use_true_random=False))
    def sequences(chance: random.Random) -> None:
        try:
            play.sequence(chance)
        except checks.Broken as fault:
            # The rest is played too: a long run tells all that it found, as it finds it.
            broken.append(str(fault))
            with capsys.disabled():
                print(f"\n{fault}")

    began, begun = time.perf_counter(), time.process_time()
    sequences()
    rounds = 1
    # Each part gets where it matters; when is left to chance, so it is played on until it has.
    while not _got_there(play) and rounds < MOST_ROUNDS:
        seed(BEGUN_WITH + shard + SHARDS * rounds)(sequences)()
        rounds += 1
    count *= rounds
    took, worked = time.perf_counter() - began, time.process_time() - begun
    told = ", ".join(f"{many} {what}" for what, many in sorted(play.answers.items()))
    rate = f"{count / took:.1f} a second, {worked / count:.2f} s of CPU each"
    print(f"{count} sequences, {rate}: {told}")
    assert broken == []
    assert play.answers["2xx"] > 3 * count
    assert _got_there(play)


def _got_there(play: Play) -> bool:
    """Whether an area was released and a release withdrawn."""
    return min(play.answers["released"], play.answers["withdrawn"]) > 0


def test_every_page_that_takes_a_form_is_sent_forms() -> None:
    sent = {name for name, _ in calls_any.every_address("POST") if not name.startswith("api-")}
    assert sent <= {*FIELDS}
    assert {name for name, _ in calls_any.every_address("GET")} > {"job", "api-job", "link"}


def test_every_call_of_the_api_that_writes_is_made() -> None:
    paths = {(method, path) for method, path, _ in calls_any.operations()}
    assert ("POST", "/api/areas/{area_id}/cover-releases") in paths
    assert len(paths) > 30


def test_whoever_came_in_by_an_invitation_may_read_of_the_shop(play: Play) -> None:
    world = play.world
    call = Call("stranger", "GET", f"/jobs/{world.ours.jobs['new'].id}/")
    with undone():
        shop = world.ours.shop
        Membership.objects.create(shop=shop, person=world.people["stranger"], role=Role.CREW_LEAD)
        answer = world.clients["stranger"].get(call.path)
        assert OWN in answer.text
        checks.answer_is_in_order(world, call, answer)
    with pytest.raises(checks.Broken, match="a word of another shop"):
        checks.answer_is_in_order(world, call, answer)

"""Ten thousand random sequences of calls on every face: nothing false gets through, nothing breaks.

`make proof` plays all of them on both databases, `make test` a hundredth. A sequence begins with a
job in some state, goes on with calls of the API and of pages by people of the shop, by strangers
and by whoever holds a link, with hostile moments, days, measures, texts and ids, while the clock
is set and beat and worker come or do not. After each call and at the end `checks.py` looks.
"""

import time

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from tests.hostile.playing import Play

SHARDS, IN_ALL = 4, 10_000  # on each database
PART = 100  # `make test` plays one in so many
BEGUN_WITH = 20_261_129

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("shard", range(SHARDS))
def test_no_sequence_of_calls_gets_anything_false_through(
    play: Play, shard: int, whole: bool
) -> None:
    count = IN_ALL // SHARDS // (1 if whole else PART)

    @seed(BEGUN_WITH + shard)
    @settings(
        max_examples=count,
        phases=[Phase.generate],
        derandomize=False,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def sequences(data: st.DataObject) -> None:
        play.sequence(data.draw)

    began = time.perf_counter()
    sequences()
    took = time.perf_counter() - began
    print(f"{count / took:.1f} sequences a second, {play.answers}")

"""The stage of a job follows from its facts."""

import pytest

from inspections.standing.stages import AreaState, Stage, stage

OPEN, READY, RELEASED = AreaState(True, False), AreaState(False, False), AreaState(False, True)


@pytest.mark.parametrize(
    ("issued", "areas", "hooked_up", "finished", "expected"),
    [
        (False, [RELEASED], True, True, Stage.PERMIT),
        (True, [], False, False, Stage.ROUGH_IN),
        (True, [RELEASED, OPEN], False, False, Stage.ROUGH_IN),
        (True, [RELEASED, READY], False, False, Stage.COVER_UP),
        (True, [RELEASED, RELEASED], False, False, Stage.HOOKUP),
        (True, [RELEASED], False, True, Stage.HOOKUP),
        (True, [RELEASED], True, False, Stage.FINISH),
        (True, [RELEASED], True, True, Stage.FINAL),
        (True, [OPEN], True, True, Stage.ROUGH_IN),
    ],
)
def test_stage(issued, areas, hooked_up, finished, expected) -> None:
    assert stage(issued, areas, hooked_up=hooked_up, finished=finished) is expected

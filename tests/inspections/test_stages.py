"""The stage of a job follows from its facts."""

import pytest

from inspections.standing.stages import AreaState, Stage, stage

OPEN, READY, CLEARED = AreaState(True, False), AreaState(False, False), AreaState(False, True)


@pytest.mark.parametrize(
    ("issued", "areas", "hooked_up", "finished", "expected"),
    [
        (False, [CLEARED], True, True, Stage.PERMIT),
        (True, [], False, False, Stage.ROUGH_IN),
        (True, [CLEARED, OPEN], False, False, Stage.ROUGH_IN),
        (True, [CLEARED, READY], False, False, Stage.COVER_UP),
        (True, [CLEARED, CLEARED], False, False, Stage.HOOKUP),
        (True, [CLEARED], False, True, Stage.HOOKUP),
        (True, [CLEARED], True, False, Stage.FINISH),
        (True, [CLEARED], True, True, Stage.FINAL),
        (True, [OPEN], True, True, Stage.ROUGH_IN),
    ],
)
def test_stage(issued, areas, hooked_up, finished, expected) -> None:
    assert stage(issued, areas, hooked_up=hooked_up, finished=finished) is expected

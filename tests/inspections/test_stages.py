"""The stage of a job follows from its facts."""

import pytest

from inspections.stages import AreaState, Milestone, Stage, stage

OPEN, READY, CLEARED = AreaState(True, False), AreaState(False, False), AreaState(False, True)


@pytest.mark.parametrize(
    ("issued", "areas", "milestones", "expected"),
    [
        (False, [CLEARED], [Milestone.HOOKUP], Stage.PERMIT),
        (True, [], [], Stage.ROUGH_IN),
        (True, [CLEARED, OPEN], [], Stage.ROUGH_IN),
        (True, [CLEARED, READY], [], Stage.COVER_UP),
        (True, [CLEARED, CLEARED], [], Stage.HOOKUP),
        (True, [CLEARED], [Milestone.HOOKUP], Stage.FINISH),
        (True, [CLEARED], [Milestone.HOOKUP, Milestone.FINISH], Stage.FINAL),
        (True, [OPEN], [Milestone.HOOKUP], Stage.ROUGH_IN),
    ],
)
def test_stage(issued, areas, milestones, expected) -> None:
    assert stage(issued, areas, milestones) is expected

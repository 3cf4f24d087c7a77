"""What moves a job on, and whose move it is, from its stage and holds."""

import pytest

from inspections.standing.moves import AgainNow, AreaNow, JobNow, NextStep, moves
from inspections.standing.stages import Stage

HELD = AreaNow("Loft", [("acceptance", "office: ask for the visit")], released=False)
COMING = AreaNow("Loft", [("acceptance", "office: ask")], released=False, inspection="booked")
FREE = AreaNow("Loft", [], released=False)
CLEAR = AreaNow("Loft", [], released=True)
AGAIN_FREE = AreaNow("Loft", [], released=False, withdrawn=True)
WITHDRAWN = AreaNow(
    "Loft", [("withdrawn", "office or crew lead: record what was done about it")], released=False
)
CHANGED = AreaNow("Loft", [("changed", "office: ask")], released=False)
SEEN_SOON = AreaNow("Loft", [("changed", "office: ask")], released=False, inspection="booked")
OPEN = AreaNow("Loft", [("open", "crew: look and tick")], released=False)
UNPERMITTED = AreaNow("Loft", [("permit", "office: apply for it")], released=False)
AGAIN = AgainNow("rough-in (Loft)", ["Loft"], "85.00")


@pytest.mark.parametrize(
    ("job", "expected"),
    [
        (JobNow(Stage.PERMIT, [UNPERMITTED]), [("office", "apply for it")]),
        (JobNow(Stage.ROUGH_IN), [("crew lead", "record what was roughed in")]),
        (JobNow(Stage.ROUGH_IN, [OPEN, HELD]), [("crew", "Loft: look and tick")]),
        (JobNow(Stage.COVER_UP, [HELD]), [("office", "Loft: ask for the visit")]),
        (JobNow(Stage.COVER_UP, [COMING]), [("authority", "Loft: the visit is booked")]),
        (JobNow(Stage.COVER_UP, [FREE]), [("office", "Loft: clear it for cover")]),
        (JobNow(Stage.COVER_UP, [CLEAR]), []),
        (
            JobNow(Stage.COVER_UP, [AGAIN_FREE]),
            [("office", "Loft: release it for cover again; what withdrew it is answered")],
        ),
        (
            JobNow(Stage.ROUGH_IN, [WITHDRAWN, HELD]),
            [("office or crew lead", "Loft: record what was done about it")],
        ),
        (JobNow(Stage.COVER_UP, [CHANGED]), [("office", "Loft: ask")]),
        (JobNow(Stage.COVER_UP, [SEEN_SOON]), [("authority", "Loft: the visit is booked")]),
        (
            JobNow(Stage.COVER_UP, [HELD], again=[AGAIN]),
            [
                (
                    "office",
                    "ask for the rough-in (Loft) visit again, once it is mended (fee 85.00)",
                )
            ],
        ),
        (
            JobNow(Stage.HOOKUP),
            [("office", "ask for the construction hookup and record its reference")],
        ),
        (
            JobNow(Stage.HOOKUP, inspections={Stage.HOOKUP: "booked"}),
            [("authority", "the construction hookup visit is booked")],
        ),
        (
            JobNow(Stage.FINISH, finish_open=1, temporary_until="2026-06-01"),
            [
                ("crew lead", "finish: 1 item is still to look at or to mend"),
                ("office", "have the temporary service removed by 2026-06-01"),
            ],
        ),
        (
            JobNow(Stage.FINISH, finish_open=2),
            [("crew lead", "finish: 2 items are still to look at or to mend")],
        ),
        (
            JobNow(Stage.FINAL),
            [("office", "ask for the final visit and record the certificate")],
        ),
        (
            JobNow(Stage.FINAL, inspections={Stage.FINAL: "asked for"}),
            [("authority", "the final visit is asked for")],
        ),
        (JobNow(Stage.FINAL, certificate_in=True), [("office", "close the permit")]),
        (JobNow(Stage.FINAL, certificate_in=True, permit_closed=True), []),
    ],
)
def test_moves(job: JobNow, expected: list[tuple[str, str]]) -> None:
    assert moves(job) == [NextStep(*each) for each in expected]


def test_the_crews_own_work_comes_first_and_each_move_once() -> None:
    found = moves(JobNow(Stage.COVER_UP, [HELD, OPEN, OPEN]))
    assert [move.who for move in found] == ["crew", "office"]

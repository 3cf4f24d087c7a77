"""What moves a job on, and whose move it is, from its stage and holds."""

from datetime import date

import pytest

from config.languages import say
from inspections.standing.inspection_messages import inspection_kind
from inspections.standing.inspection_states import InspectionState
from inspections.standing.moves import AgainNow, AreaNow, JobNow, moves
from inspections.standing.stages import Stage
from inspections.standing.steps import read_lifts

BOOKED, NO_ACCESS = InspectionState.BOOKED, InspectionState.NO_ACCESS


def held(reason: str, lifted_by: str, inspection: InspectionState | None = None) -> AreaNow:
    return AreaNow("Loft", [(reason, read_lifts(lifted_by))], False, inspection)


HELD = held("acceptance", "office: ask for the visit")
COMING = held("acceptance", "office: ask", BOOKED)
SHUT_OUT = held("acceptance", "office: ask", NO_ACCESS)
FREE = AreaNow("Loft", [], released=False)
CLEAR = AreaNow("Loft", [], released=True)
AGAIN_FREE = AreaNow("Loft", [], released=False, withdrawn=True)
WITHDRAWN = held("withdrawn", "office or crew lead: record what was done about it")
CHANGED = held("changed", "office: ask")
SEEN_SOON = held("changed", "office: ask", BOOKED)
OPEN = held("open", "crew: look and tick")
UNPERMITTED = held("permit", "office: apply for it")
AGAIN = AgainNow(inspection_kind("rough_in", ["Loft"]), ["Loft"], "85.00")


@pytest.mark.parametrize(
    ("job", "expected"),
    [
        (JobNow(Stage.PERMIT, [UNPERMITTED]), [("office", "apply for it")]),
        (JobNow(Stage.ROUGH_IN), [("crew lead", "record the rough-in")]),
        (JobNow(Stage.ROUGH_IN, [OPEN, HELD]), [("crew", "Loft: look and tick")]),
        (JobNow(Stage.COVER_UP, [HELD]), [("office", "Loft: ask for the visit")]),
        (JobNow(Stage.COVER_UP, [COMING]), [("authority", "Loft: inspection booked")]),
        (
            JobNow(Stage.COVER_UP, [SHUT_OUT]),
            [("office", "Loft: reschedule the inspection; the inspector could not get in")],
        ),
        (JobNow(Stage.COVER_UP, [FREE]), [("office", "Loft: release it for cover")]),
        (JobNow(Stage.COVER_UP, [CLEAR]), []),
        (
            JobNow(Stage.COVER_UP, [AGAIN_FREE]),
            [
                (
                    "office",
                    "Loft: release it for cover again; the reason of the withdrawal is answered",
                )
            ],
        ),
        (
            JobNow(Stage.ROUGH_IN, [WITHDRAWN, HELD]),
            [("office or crew lead", "Loft: record what was done about it")],
        ),
        (JobNow(Stage.COVER_UP, [CHANGED]), [("office", "Loft: ask")]),
        (JobNow(Stage.COVER_UP, [SEEN_SOON]), [("authority", "Loft: inspection booked")]),
        (
            JobNow(Stage.COVER_UP, [HELD], again=[AGAIN]),
            [
                (
                    "office",
                    "request another rough-in inspection (Loft) once it is corrected (fee 85.00)",
                )
            ],
        ),
        (
            JobNow(Stage.HOOKUP),
            [("office", "request the construction hookup and record its reference")],
        ),
        (
            JobNow(Stage.HOOKUP, inspections={Stage.HOOKUP: BOOKED}),
            [("authority", "construction hookup inspection: booked")],
        ),
        (
            JobNow(Stage.HOOKUP, inspections={Stage.HOOKUP: NO_ACCESS}),
            [("office", "reschedule the inspection; the inspector could not get in")],
        ),
        (
            JobNow(Stage.FINISH, finish_open=1, temporary_until=date(2026, 6, 1)),
            [
                ("crew lead", "finish: 1 item to verify or fix"),
                ("office", "have the temporary service removed by Jun 1, 2026"),
            ],
        ),
        (
            JobNow(Stage.FINISH, finish_open=2),
            [("crew lead", "finish: 2 items to verify or fix")],
        ),
        (
            JobNow(Stage.FINAL),
            [("office", "request the final inspection and record the certificate")],
        ),
        (
            JobNow(Stage.FINAL, inspections={Stage.FINAL: InspectionState.ASKED}),
            [("authority", "final inspection: requested, not booked")],
        ),
        (JobNow(Stage.FINAL, certificate_in=True), [("office", "close the permit")]),
        (JobNow(Stage.FINAL, certificate_in=True, permit_closed=True), []),
    ],
)
def test_moves(job: JobNow, expected: list[tuple[str, str]]) -> None:
    found = [(" or ".join(move.who), say(move.what, "en")) for move in moves(job)]
    assert found == expected


def test_the_crews_own_work_comes_first_and_each_move_once() -> None:
    found = moves(JobNow(Stage.COVER_UP, [HELD, OPEN, OPEN]))
    assert [move.who for move in found] == [("crew",), ("office",)]

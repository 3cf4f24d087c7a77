"""The stage of a job: how far its facts have carried it. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum


class Stage(StrEnum):
    """The stages of a job, in order."""

    PERMIT = "permit"
    ROUGH_IN = "rough-in"
    COVER_UP = "cover-up approval"
    HOOKUP = "construction hookup"
    FINISH = "finish"
    FINAL = "final"


class Milestone(StrEnum):
    """What was reported done, once for the whole job."""

    HOOKUP = "hookup"
    TEMPORARY_GONE = "temporary service removed"
    FINAL = "final"


@dataclass(frozen=True, slots=True)
class AreaState:
    """What the stage needs to know of an area."""

    item_holds: bool
    released: bool


def stage(
    permit_issued: bool, areas: Sequence[AreaState], *, hooked_up: bool, finished: bool
) -> Stage:
    """The first stage that still has something to do.

    `finished` means that every item of the finish has passed.
    """
    if not permit_issued:
        return Stage.PERMIT
    if not areas or any(area.item_holds for area in areas):
        return Stage.ROUGH_IN
    if not all(area.released for area in areas):
        return Stage.COVER_UP
    if not hooked_up:
        return Stage.HOOKUP
    if finished:
        return Stage.FINAL
    return Stage.FINISH

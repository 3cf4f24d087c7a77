"""Everything that would finish a house, stage after stage, each resting on what came before."""

from collections.abc import Callable, Collection
from dataclasses import dataclass

from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook

from .alarms import propose_alarms
from .circuits import propose_circuits
from .counter_receptacles import propose_counter_receptacles
from .islands import propose_island_receptacles
from .lighting import propose_lights
from .outdoors import propose_outdoors
from .proposal import Found, Proposal, with_proposals
from .room_receptacles import propose_outdoor_receptacles, propose_room_receptacles
from .routes import propose_cables
from .stock import propose_boxes
from .wall_receptacles import propose_wall_receptacles
from .wants import USUAL, Wants

Stage = Callable[[House, Rulebook, Wants], list[Found]]

BEFORE_CIRCUITS: tuple[Stage, ...] = (
    propose_outdoors,
    propose_wall_receptacles,
    propose_counter_receptacles,
    propose_island_receptacles,
    propose_room_receptacles,
    propose_outdoor_receptacles,
    propose_lights,
    propose_alarms,
)
AFTER: tuple[Stage, ...] = (propose_cables, propose_boxes)


@dataclass(frozen=True, slots=True)
class Finished:
    """A house with what was accepted, all that was proposed, and what is short all the same."""

    house: House
    found: tuple[Found, ...]
    short: tuple[Finding, ...]

    @property
    def proposals(self) -> list[Proposal]:
        """What can be accepted or left out."""
        proposals: list[Proposal] = []
        for each in self.found:
            if isinstance(each, Proposal):
                proposals.append(each)
        return proposals


def finish_house(
    house: House, book: Rulebook, wants: Wants = USUAL, left_out: Collection[str] = ()
) -> Finished:
    """The house with every proposal but those left out by their keys, and what is then short.

    A later stage rests on what the earlier ones leave: without a light no switch is proposed.
    """
    before = {box.id for box in house.boxes}
    found: list[Found] = []
    for stage in (*BEFORE_CIRCUITS, propose_circuits, *AFTER):
        if stage is propose_circuits:
            ours = {box.id for box in house.boxes} - before
            made = propose_circuits(house, book, wants, ours)
        else:
            made = stage(house, book, wants)
        chosen = []
        for each in made:
            if isinstance(each, Proposal) and each.key not in left_out:
                chosen.append(each)
        house = with_proposals(house, chosen)
        found += made
    short = []
    for finding in check(house, book):
        if finding.verdict is Verdict.NOT_TO_CODE:
            short.append(finding)
    return Finished(house, tuple(found), tuple(short))

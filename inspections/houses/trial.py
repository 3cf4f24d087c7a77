"""A house that is not recorded: what its rulebook says of it, and what would finish it."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from config.languages import say
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.checker.rulebook import LimitFault, Rulebook, RulebookFault
from inspections.checker.rulebook_messages import NOT_CHOSEN
from inspections.drawing.geometry import storeys_drawn
from inspections.drawing.plan import plan_svg
from inspections.houses.amendments import rulebook_of_shop
from inspections.propose.finish import Finished, finish_house
from inspections.propose.places import STUD_SPACING_MM
from inspections.propose.proposal import Proposal, Unsolved
from inspections.propose.wants import Wants
from inspections.selectors import insulated
from jobs.models import Job

WANTING = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)


@dataclass(frozen=True, slots=True)
class Tried:
    """A house, its rulebook and what was found, nothing of it kept."""

    house: House
    rulebook: Rulebook
    findings: Sequence[Finding]

    @property
    def wanting(self) -> list[Finding]:
        """What is short or unknown."""
        findings: list[Finding] = []
        for finding in self.findings:
            if finding.verdict in WANTING:
                findings.append(finding)
        return findings

    def count(self, verdict: Verdict) -> int:
        """How many findings say so."""
        total = 0
        for finding in self.findings:
            total += finding.verdict is verdict
        return total

    def plan(self, storey: str) -> str:
        """The plan of a storey as SVG, what is short in place; empty where no room has walls."""
        short = []
        for f in self.findings:
            if f.verdict is Verdict.NOT_TO_CODE:
                short.append(f)
        drawn = False
        for each in storeys_drawn(self.house):
            if each.id == storey:
                drawn = True
                break
        if drawn:
            return plan_svg(self.house, storey, short, say=say)
        return ""


def house_tried(job: Job, house: bytes, rulebook: str = "") -> Tried:
    """What the rulebook says of a house file. Writes nothing.

    Raises checker.HouseFaults or checker.RulebookFault as recording does.
    """
    value, book = _read(job, house, rulebook)
    return Tried(value, book, check(value, book))


def house_finished(
    job: Job,
    house: bytes,
    rulebook: str = "",
    left_out: Collection[str] = (),
    stud_spacing_mm: float = STUD_SPACING_MM,
) -> Finished:
    """What would finish a house, but for the proposals left out. Writes nothing.

    Raises checker.HouseFaults or checker.RulebookFault as recording does.
    """
    value, book = _read(job, house, rulebook)
    return finish_house(value, book, Wants(stud_spacing_mm=stud_spacing_mm), left_out)


def _read(job: Job, house: bytes, rulebook: str) -> tuple[House, Rulebook]:
    value = insulated(load_house(house), job)
    chosen = rulebook or value.rulebook
    if not chosen:
        raise RulebookFault(LimitFault("rulebook", NOT_CHOSEN()))
    return value, rulebook_of_shop(job.shop, chosen)


def finished_json(done: Finished) -> dict[str, Any]:
    """What would finish a house as JSON: the house with what was kept, each proposal, what is
    left."""
    proposals = []
    for each in done.found:
        if isinstance(each, Proposal):
            proposals.append(each)
    unsolved = []
    for each in done.found:
        if isinstance(each, Unsolved):
            unsolved.append(each)
    proposed = []
    for p in proposals:
        proposed.append(
            {
                "key": p.key,
                "kind": p.kind,
                "for": p.subject,
                "says": say(p.says),
                "proof": say(p.proof),
            }
        )
    not_solved = []
    for e in unsolved:
        not_solved.append({"kind": e.kind, "for": e.subject, "why": say(e.why)})
    short = []
    for finding in done.short:
        short.append(board_line(finding))
    return {
        "house": done.house.model_dump(mode="json", exclude_defaults=True),
        "proposals": proposed,
        "unsolved": not_solved,
        "not_to_code": short,
    }


def board_line(finding: Finding) -> dict[str, str]:
    """A finding as a line on a drawing board."""
    words = finding.words
    return {
        "key": finding.key,
        "verdict": finding.verdict.value,
        "title": say(finding.rule.named),
        "where": say(finding.spot.text),
        "room": finding.spot.room,
        "subject": finding.subject,
        "says": say(words.says),
        "remedy": say(words.remedy),
    }

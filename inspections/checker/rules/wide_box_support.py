"""Extra support for boxes wider than two gangs."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Text, message
from inspections.checker.asking.fixing import figure
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..site import HouseByCode

NAME = "wide-box-support"
NO_BRACE = message(f"{NAME}.none", "{gangs}-gang box {box} has no brace.")
BRACES = message(
    f"{NAME}.braces",
    "{gangs}-gang box {box} has {braces} braces; {required} required.",
    one="{gangs}-gang box {box} has {braces} brace; {required} required.",
    count="braces",
)
COUNT = message(f"{NAME}.count", "how many braces {gangs}-gang box {box} has")
REQUIRED = message(
    f"{NAME}.required",
    "wider than {free} gangs: {required} braces on the free side",
    one="wider than {free} gangs: {required} brace on the free side",
    count="required",
)
FOUND = message(f"{NAME}.found", "braces found: {braces}")
BRACE_IT = message(f"{NAME}.remedy", "Brace its free side to framing.")
COUNT_THEM = message(f"{NAME}.record", "Count them on its free side and record it.")


@dataclass(frozen=True, slots=True)
class BraceFacts:
    """The braces of a wide box, and how many its width requires."""

    box: str
    gangs: int
    braces: int | None
    free_gangs: int
    """So many need none."""
    required: int


def tell(finding: Finding) -> FindingWords:
    """Braces against what is required."""
    facts: BraceFacts = finding.facts
    wide = REQUIRED(free=facts.free_gangs, required=facts.required)
    if facts.braces is None:
        missing = COUNT(gangs=facts.gangs, box=facts.box)
        says = NOT_RECORDED(what=missing)
        return FindingWords(says, "", facts.required, (wide,), COUNT_THEM())
    remedy: Text | str = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = BRACE_IT()
    working = (wide, FOUND(braces=facts.braces))
    return FindingWords(_says(facts, facts.braces), facts.braces, facts.required, working, remedy)


def _says(facts: BraceFacts, braces: int) -> Text:
    if not braces:
        return NO_BRACE(gangs=facts.gangs, box=facts.box)
    return BRACES(gangs=facts.gangs, box=facts.box, braces=braces, required=facts.required)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """A brace on its free side."""
    facts = finding.facts
    yield figure(("boxes", facts.box, "braces"), least=facts.required)


@rule(
    NAME,
    topic="boxes",
    title="Bracing of wide boxes",
    tell=tell,
    scope=Scope.ROOM,
    facts=BraceFacts,
    workmanship=True,
    fixes=_fixes,
)
def wide_box_support(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A box wider than two gangs, fixed at one side, works loose; it is braced on the other."""
    book = site.rulebook
    if f"{NAME}.braces" not in book:
        return
    limits = (book[f"{NAME}.gangs"], book[f"{NAME}.braces"])
    free, required = limits[0].value, limits[1].value
    for box in site.house.boxes:
        if box.gangs > free:
            facts = BraceFacts(box.id, box.gangs, box.braces, free, required)
            yield Finding(this, box.id, _verdict(box, required), site.box_spot(box), facts, limits)


def _verdict(box: Box, required: int) -> Verdict:
    if box.braces is None:
        return Verdict.INFO_NEEDED
    if box.braces < required:
        return Verdict.NOT_TO_CODE
    return Verdict.OK

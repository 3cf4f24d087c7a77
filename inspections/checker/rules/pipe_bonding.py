"""Metal water and gas piping bonded to the service."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Text, message
from inspections.checker.asking.points import EITHER_WAY
from inspections.checker.asking.service_panel import fact_verdict, panel_not_recorded, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.grounding import Pipe, PipeKind
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode

NAME = "pipe-bonding"
PIPING = {
    PipeKind.WATER: message(f"{NAME}.water", "water piping"),
    PipeKind.GAS: message(f"{NAME}.gas", "gas piping"),
}
OK = message(f"{NAME}.ok", "The {piping} is bonded.")
WRONG = message(f"{NAME}.wrong", "The metal {piping} is not bonded.")
REQUIRED = message(f"{NAME}.required", "metal piping must be bonded; plastic need not")
UNBONDED = message(f"{NAME}.unbonded", "it is not bonded")
WHETHER_METAL = message(f"{NAME}.whether-metal", "whether the {piping} is metal")
WHETHER_BONDED = message(f"{NAME}.whether-bonded", "whether the {piping} is bonded")
EVERY = message(f"{NAME}.every", "whether the water and gas piping is metal and bonded")
REMEDY = message(f"{NAME}.remedy", "Bond it where it enters, with a clamp that stays accessible.")


@dataclass(frozen=True, slots=True)
class PipeBondingFacts:
    """Piping of one kind that is metal or may be, and whether it is bonded."""

    kind: PipeKind
    metal: bool | None
    bonded: bool | None


@dataclass(frozen=True, slots=True)
class NoPipingFacts:
    """No piping is recorded; these kinds are to be bonded when they are metal."""

    kinds: frozenset[PipeKind]


def tell(finding: Finding) -> FindingWords:
    """The piping and whether it is bonded."""
    facts: PipeBondingFacts | NoPipingFacts = finding.facts
    if isinstance(facts, NoPipingFacts):
        return _nothing(facts)
    piping = PIPING[facts.kind]()
    match finding.verdict:
        case Verdict.NOT_TO_CODE:
            says = WRONG(piping=piping)
            return FindingWords(says, working=(says,), remedy=REMEDY())
        case Verdict.OK:
            says = OK(piping=piping)
            line = says
            if facts.metal is None:
                line = EITHER_WAY(what=WHETHER_METAL(piping=piping))
            return FindingWords(says, working=(line,))
        case _:
            return _missing(facts, piping)


def _missing(facts: PipeBondingFacts, piping: Text) -> FindingWords:
    """What is to be recorded of one kind of piping; of plastic nothing else is."""
    if facts.metal:
        return panel_not_recorded((WHETHER_BONDED(piping=piping),), working=(REQUIRED(),))
    working = [REQUIRED()]
    if facts.bonded is False:
        working.append(UNBONDED())
    return panel_not_recorded((WHETHER_METAL(piping=piping),), working=working)


def _nothing(facts: NoPipingFacts) -> FindingWords:
    """What is to be recorded where nothing is."""
    if len(facts.kinds) > 1:
        return panel_not_recorded((EVERY(),))
    missing = []
    for kind in facts.kinds:
        missing.append(WHETHER_METAL(piping=PIPING[kind]()))
    return panel_not_recorded(missing)


@rule(
    NAME,
    topic="grounding",
    title="Pipe bonding",
    tell=tell,
    scope=Scope.WIRING,
    facts=PipeBondingFacts | NoPipingFacts,
    workmanship=True,
)
def pipe_bonding(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Metal piping that could become live is bonded to the service. Plastic needs nothing."""
    panel = service_panel(site)
    limits = _limits(site.rulebook)
    if panel is None or not limits:
        return
    spot = site.panel_spot(panel)
    grounding = site.house.grounding
    if grounding is None or grounding.pipes is None:
        nothing = NoPipingFacts(frozenset(limits))
        every = tuple(limits.values())
        yield Finding(this, panel.id, Verdict.INFO_NEEDED, spot, nothing, every)
        return
    for pipe in grounding.pipes:
        if pipe.metal is not False and pipe.kind in limits:
            facts = PipeBondingFacts(pipe.kind, pipe.metal, pipe.bonded)
            subject, limit = f"{panel.id}/{pipe.kind.value}", limits[pipe.kind]
            yield Finding(this, subject, _verdict(pipe), spot, facts, (limit,))


def _limits(book: Rulebook) -> dict[PipeKind, Limit]:
    """What the code requires of each kind of piping."""
    limits = {}
    for kind in PipeKind:
        limit = book.get(f"{NAME}.{kind.value}")
        if limit and limit.value:
            limits[kind] = limit
    return limits


def _verdict(pipe: Pipe) -> Verdict:
    """By its bonding; a pipe that may be plastic is not short for want of it."""
    if pipe.metal or pipe.bonded:
        return fact_verdict(pipe.bonded)
    return fact_verdict(None)

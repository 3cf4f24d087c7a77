"""Breaker spaces enough in the service panel, some of them spare."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Value, message
from inspections.checker.asking.service_panel import at_service, panel_not_recorded, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.power import Panel
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "panel-spaces"
BOTH = message(
    f"{NAME}.both",
    "Panel {panel} has {spaces} spaces ({least} required), {spare} spare ({reserve} required).",
)
TOTAL = message(
    f"{NAME}.total",
    "Panel {panel} has {spaces} spaces; {least} required.",
    one="Panel {panel} has {spaces} space; {least} required.",
    count="spaces",
)
SPARE = message(
    f"{NAME}.spare",
    "Panel {panel} has {spare} spare spaces; {reserve} required.",
    one="Panel {panel} has {spare} spare space; {reserve} required.",
    count="spare",
)
OVERFULL = message(
    f"{NAME}.overfull", "Circuits of panel {panel} take {taken} spaces; it has {spaces}."
)
REMEDY = message(f"{NAME}.remedy", "Install a panel with more spaces.")
RATING = message(f"{NAME}.rating", "the rating of panel {panel}")
COUNT = message(f"{NAME}.count", "how many spaces panel {panel} has")
READ = message(f"{NAME}.read", "Read its label and record it.")
BY_RATING = message(f"{NAME}.by-rating", "spaces required for {rating}: {least}")
SUM = message(f"{NAME}.sum", "spaces {spaces}, taken {taken}, spare {spare}")
TAKEN = message(f"{NAME}.taken", "spaces taken by its circuits: {taken}")
RESERVE = message(f"{NAME}.reserve", "spare spaces required: {reserve}")


@dataclass(frozen=True, slots=True)
class PanelSpacesFacts:
    """The spaces of a panel, those that are taken and those that its rating requires.

    `least` and `spare` are None while the rating or the spaces are not recorded.
    """

    panel: str
    rating_a: float | None
    spaces: int | None
    taken: int
    reserve: int
    """Spare spaces that are required."""
    least: int | None
    spare: int | None


def tell(finding: Finding) -> FindingWords:
    """The spaces there are, those required, and what is left."""
    facts: PanelSpacesFacts = finding.facts
    if facts.rating_a is None or facts.spaces is None or facts.least is None:
        return _missing(facts)
    says, figure, limit = _said(facts)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = REMEDY()
    spare = facts.spare or 0
    working = (
        BY_RATING(rating=Amperes(facts.rating_a), least=facts.least),
        SUM(spaces=facts.spaces, taken=facts.taken, spare=spare),
        RESERVE(reserve=facts.reserve),
    )
    return FindingWords(says, figure, limit, working, remedy)


def _missing(facts: PanelSpacesFacts) -> FindingWords:
    """What its label says and is not recorded yet."""
    missing: list[Value] = []
    if facts.rating_a is None:
        missing.append(RATING(panel=facts.panel))
    if facts.spaces is None:
        missing.append(COUNT(panel=facts.panel))
    working = (TAKEN(taken=facts.taken), RESERVE(reserve=facts.reserve))
    return panel_not_recorded(missing, working=working, remedy=READ())


def _said(facts: PanelSpacesFacts) -> tuple[Value, Value, Value]:
    """What is wrong of the two, or both; its figure and its limit."""
    spaces, least, spare = facts.spaces or 0, facts.least or 0, facts.spare or 0
    if spare < 0:
        says = OVERFULL(panel=facts.panel, taken=facts.taken, spaces=spaces)
        return says, facts.taken, spaces
    few, full = spaces < least, spare < facts.reserve
    if few and not full:
        return TOTAL(panel=facts.panel, spaces=spaces, least=least), spaces, least
    if full and not few:
        says = SPARE(panel=facts.panel, spare=spare, reserve=facts.reserve)
        return says, spare, facts.reserve
    says = BOTH(panel=facts.panel, spaces=spaces, least=least, spare=spare, reserve=facts.reserve)
    return says, spaces, least


@rule(
    NAME,
    topic="panel",
    title="Panel spaces",
    tell=tell,
    scope=Scope.WIRING,
    facts=PanelSpacesFacts,
)
def panel_spaces(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The service panel has the spaces that its rating requires, and some of them are spare.

    A circuit takes as many as its breaker has poles. The figures are those of a house without
    central electric heating, which are the greater.
    """
    least, reserve = (site.rulebook.get(f"{NAME}.{name}") for name in ("least", "spare"))
    panel = service_panel(site)
    if least is None or reserve is None or panel is None:
        return
    taken = _taken(site, panel)
    required, spare, fits = None, None, None
    if panel.rating_a is not None and panel.spaces is not None:
        required = _least(least, panel.rating_a)
        spare = panel.spaces - taken
        fits = panel.spaces >= required and spare >= reserve.value
    facts = PanelSpacesFacts(
        panel.id, panel.rating_a, panel.spaces, taken, reserve.value, required, spare
    )
    yield at_service(this, site, panel, fits, facts, least, reserve)


def _taken(site: HouseByCode, panel: Panel) -> int:
    """The spaces that its circuits take; a circuit without a place, as many as its poles."""
    slots: set[int] = set()
    poles = 0
    for circuit in site.house.circuits:
        if circuit.panel != panel.id:
            continue
        slots.update(circuit.slots)
        if not circuit.slots:
            poles += circuit.poles
    return len(slots) + poles


def _least(least: Limit, rating: float) -> int:
    """The spaces required by the first row that the rating does not exceed, or by the last."""
    rows: list[tuple[float, int]] = []
    for row, spaces in least.value.items():
        rows.append((float(row), spaces))
    rows.sort()
    for rated, spaces in rows:
        if rating <= rated:
            return spaces
    return rows[-1][1]

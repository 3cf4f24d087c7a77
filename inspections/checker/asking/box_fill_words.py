"""Box fill in words: the sum against the box, line by line."""

from collections import Counter
from collections.abc import Iterable, Iterator

from config.messages.message import Length, Message, Rounding, Text, Value, Volume, message
from inspections.checker.asking.box_fill import NAME
from inspections.checker.asking.box_fill_facts import (
    Allowance,
    BeyondTable,
    FillFacts,
    FillLacking,
    LineKind,
    Unknown,
)
from inspections.checker.asking.line_sentences import missing_lines
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import RECORD
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.house.nouns import noun

CLOSE_ML = 0.5
"""More than what is rounded off in mL or in cubic inches."""

OVERFILLED = message(f"{NAME}.overfilled", "Box {box} is overfilled: {figure}; {limit} maximum.")
OK = message(f"{NAME}.ok", "Box {box} holds {limit}; its fill is {figure}.")
ENLARGE = message(f"{NAME}.enlarge", "Extend it or fit a larger one, or take cables out.")
BEYOND = message(
    f"{NAME}.beyond", "Box {box} has {awg} AWG conductors; the table gives no volume for them."
)
OTHERWISE = message(f"{NAME}.otherwise", "Size the box by the rule for that size, and verify it.")
LINE = message(f"{NAME}.line", "{what}: {times} × {each} = {total}")
TOTAL = message(f"{NAME}.total", "Fill: {fill}.")
SO_FAR = message(f"{NAME}.so-far", "Fill so far: {fill}.")
HOLDS = message(f"{NAME}.holds", "The box holds {volume}.")
GROUNDING = message(f"{NAME}.grounding", "equipment grounding conductors")
BONDING = message(f"{NAME}.bonding", "bonding conductors")

BY_SIZE: dict[LineKind, Message] = {
    LineKind.ENDING: message(f"{NAME}.ending", "{awg} AWG conductors that end here"),
    LineKind.PASSING: message(f"{NAME}.passing", "{awg} AWG conductors that pass through"),
    LineKind.LOOPED: message(f"{NAME}.looped", "{awg} AWG conductors looped without a cut"),
    LineKind.BONDING: message(f"{NAME}.together", "{conductors} together, at {awg} AWG"),
    LineKind.MORE_BONDING: message(f"{NAME}.beyond-these", "further {conductors}, at {awg} AWG"),
    LineKind.ISOLATED_BONDING: message(f"{NAME}.isolated", "isolated {conductors}, at {awg} AWG"),
    LineKind.CLAMPS: message(f"{NAME}.clamps", "internal clamps, at {awg} AWG"),
    LineKind.STUDS: message(f"{NAME}.studs", "studs and hickeys, at {awg} AWG"),
    LineKind.LUMINAIRE: message(f"{NAME}.luminaire", "{awg} AWG luminaire wires"),
    LineKind.STRAP: message(
        f"{NAME}.strap",
        "{n} straps ({device}), at {awg} AWG",
        one="strap ({device}), at {awg} AWG",
    ),
    LineKind.DEEP: message(f"{NAME}.deep", "{device} {depth} deep"),
    LineKind.CONNECTORS: message(f"{NAME}.connectors", "pairs of wire connectors, at {awg} AWG"),
    LineKind.CONNECTOR_COUNT: message(
        f"{NAME}.most-connectors", "pairs of wire connectors if none is spare, at {awg} AWG"
    ),
    LineKind.CONNECTOR_SIZE: message(
        f"{NAME}.larger-connectors", "wire connectors, if the largest size ends in them"
    ),
    LineKind.STRAP_SIZE: message(
        f"{NAME}.larger-strap", "strap ({device}), if the largest size ends on it"
    ),
}
MISSING: dict[Unknown, Message] = {
    Unknown.SIZE: message(f"{NAME}.missing.size", "the size of cable {cable}"),
    Unknown.CLAMPS: message(f"{NAME}.missing.clamps", "whether this box has internal clamps"),
    Unknown.DEPTH: message(
        f"{NAME}.missing.depth",
        "the depth of {n} devices ({device})",
        one="the depth of the {device}",
    ),
    Unknown.STRAP_SIZE: message(
        f"{NAME}.missing.strap-size",
        "the wire size on {n} devices ({device})",
        one="the wire size on the {device}",
    ),
    Unknown.CONNECTOR_COUNT: message(
        f"{NAME}.missing.connector-count", "how many wire connectors this box holds"
    ),
    Unknown.CONNECTOR_SIZE: message(
        f"{NAME}.missing.connector-size", "the wire size in its connectors"
    ),
    Unknown.VOLUME: message(f"{NAME}.missing.volume", "the volume of this box"),
    Unknown.STOCK: message(f"{NAME}.missing.stock", "the volume of box type {stock}"),
    Unknown.CABLES: message(f"{NAME}.missing.cables", "which cables end in this box"),
}


def tell(finding: Finding) -> FindingWords:
    """The sum against the box, line by line."""
    facts: FillFacts | BeyondTable = finding.facts
    if isinstance(facts, BeyondTable):
        says = BEYOND(box=facts.box, awg=facts.awg)
        return FindingWords(says, working=(says,), remedy=OTHERWISE())
    fill, limit = _volumes(facts, finding.verdict)
    missing = missing_of_fill(facts.missing)
    unknown = finding.verdict is Verdict.INFO_NEEDED
    working = [*_lines(finding), *missing_lines(missing, unknown)]
    working.append(SO_FAR(fill=fill) if unknown else TOTAL(fill=fill))
    if limit:
        working.append(HOLDS(volume=limit))
    if unknown:
        return FindingWords(parts_not_recorded(missing), fill, limit, tuple(working), RECORD())
    if finding.verdict is Verdict.NOT_TO_CODE:
        says = OVERFILLED(box=facts.box, figure=fill, limit=limit)
        return FindingWords(says, fill, limit, tuple(working), ENLARGE())
    says = OK(box=facts.box, figure=fill, limit=limit)
    return FindingWords(says, fill, limit, tuple(working))


def _volumes(facts: FillFacts, verdict: Verdict) -> tuple[Volume, Value]:
    """The fill and what the box holds; where they are close, each is kept on its side."""
    if facts.has_ml is None:
        return Volume(facts.fill_ml), ""
    if abs(facts.has_ml - facts.fill_ml) > CLOSE_ML:
        return Volume(facts.fill_ml), Volume(facts.has_ml)
    rounding = Rounding.DOWN
    if verdict is Verdict.NOT_TO_CODE:
        rounding = Rounding.UP
    return Volume(facts.fill_ml, rounding), Volume(facts.has_ml, Rounding.DOWN)


def _lines(finding: Finding) -> Iterator[Text]:
    """The lines of the sum; equal ones are one line with their number."""
    facts: FillFacts = finding.facts
    for line, count in Counter(facts.lines).items():
        times = round(line.times * count, 6)
        if not times:
            continue
        yield LINE(
            what=_what(line, count, finding.code),
            times=times,
            each=Volume(line.each_ml),
            total=Volume(times * line.each_ml),
        )


def _what(line: Allowance, count: int, code: str) -> Text:
    said = BY_SIZE[line.kind]
    given: dict[str, Value] = {
        "awg": line.awg,
        "n": count,
        "conductors": GROUNDING() if code == "NEC" else BONDING(),
        "device": noun(line.device) if line.device else "",
        "depth": Length(line.times),
    }
    return said(**{name: value for name, value in given.items() if name in said.holes})


def missing_of_fill(missing: Iterable[FillLacking]) -> list[Value]:
    """What is not recorded of a box's fill; what is missing alike is said once."""
    said: list[Value] = []
    for lacking, count in Counter(missing).items():
        said.append(_lacking(lacking, count))
    return said


def _lacking(lacking: FillLacking, count: int) -> Text:
    said = MISSING[lacking.what]
    given: dict[str, Value] = {
        "n": count,
        "cable": lacking.cable,
        "device": noun(lacking.device) if lacking.device else "",
        "stock": lacking.stock,
    }
    return said(**{name: value for name, value in given.items() if name in said.holes})

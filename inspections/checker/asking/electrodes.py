"""The electrodes of a service: what they come to, and how that is told."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Joined, Length, Listed, Message, Ohms, Text, Value, message
from inspections.checker.asking.lines import MOST_NAMED, in_order
from inspections.checker.asking.points import (
    EITHER_WAY,
    STILL_MISSING,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.asking.service_panel import (
    electrode_named,
    panel_not_recorded,
)
from inspections.checker.asking.visual import natural
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.house.service import Electrode
from inspections.checker.measures import Comparator

NAME = "electrodes"
WAY = Comparator.AT_LEAST
SUFFICIENT = frozenset({Electrode.CONCRETE_ENCASED, Electrode.PLATE})
"""One of these is enough by itself."""


class ElectrodeBasis(StrEnum):
    """What decides whether the electrodes are enough."""

    NONE = "none recorded"
    ENOUGH_ALONE = "enough alone"
    PIPE_ALONE = "water pipe alone"
    PIPE = "water pipe"
    RODS = "rods"
    FEW_RODS = "few rods"


class RodMeasure(StrEnum):
    """What is measured of a rod."""

    APART = "apart"
    LENGTH = "length"


GROUNDED = {
    "NEC": message(f"{NAME}.nec.ok", "The service is grounded to {electrodes}."),
    "CEC": message(f"{NAME}.cec.ok", "The consumer's service is grounded to {electrodes}."),
}
COUNTED = message(f"{NAME}.counted", "{n} electrodes", one="{n} electrode")
PIPE_ALONE = message(
    f"{NAME}.pipe-alone", "A metal water pipe is the only electrode; one more is required."
)
FEW = message(
    f"{NAME}.few",
    "{n} ground rods; {required} required.",
    one="{n} ground rod; {required} required.",
)
RESISTANCE = message(f"{NAME}.ohms", "Ground rod resistance is {ohms}; {most} maximum.")
SHORT_OF: dict[RodMeasure, Message] = {
    RodMeasure.APART: message(
        f"{NAME}.apart",
        "{n} ground rods are too close: {found} apart, {least} minimum.",
        one="Ground rod {rods} is {found} from the next; {least} minimum.",
    ),
    RodMeasure.LENGTH: message(
        f"{NAME}.length",
        "{n} ground rods are too shallow: {found} driven, {least} minimum.",
        one="Ground rod {rods} is driven {found}; {least} minimum.",
    ),
}
ROD_LINE: dict[RodMeasure, Message] = {
    RodMeasure.APART: message(f"{NAME}.apart.line", "{rod}: {found} to the next, {least} required"),
    RodMeasure.LENGTH: message(f"{NAME}.length.line", "{rod}: {found} driven, {least} required"),
}
REMEDIES: dict[RodMeasure, Message] = {
    RodMeasure.APART: message(f"{NAME}.apart.remedy", "Drive one rod farther away."),
    RodMeasure.LENGTH: message(f"{NAME}.length.remedy", "Drive it deeper or use a longer rod."),
}
MISSING: dict[RodMeasure, Message] = {
    RodMeasure.APART: message(
        f"{NAME}.apart.missing",
        "how far apart {n} ground rods are",
        one="how far ground rod {rods} is from the next",
    ),
    RodMeasure.LENGTH: message(
        f"{NAME}.length.missing",
        "how deep {n} ground rods are driven",
        one="how deep ground rod {rods} is driven",
    ),
}
ANY = message(f"{NAME}.any", "the grounding electrodes")
RECORD_EACH = message(f"{NAME}.record", "Record each electrode and its conductor.")
ADD = message(f"{NAME}.pipe-alone.remedy", "Add another and bond it to the pipe.")
DRIVE = message(f"{NAME}.few.remedy", "Drive another rod.")
DRIVE_OR_TEST = message(f"{NAME}.few.test", "Drive another rod, or test this one: {most} maximum.")
FOUND = message(f"{NAME}.found", "electrodes: {electrodes}")
ENOUGH = message(f"{NAME}.enough", "enough alone: {electrodes}")
BESIDE = message(f"{NAME}.beside", "besides the water pipe: {electrodes}")
RODS = message(f"{NAME}.rods", "ground rods: {n}, {required} required")
TESTED = message(f"{NAME}.tested", "resistance: {ohms}; enough for one rod: {most}")


@dataclass(frozen=True, slots=True)
class FoundElectrode:
    """An electrode of the service."""

    kind: Electrode
    id: str


@dataclass(frozen=True, slots=True)
class RodShort:
    """A measure of a rod that is too little."""

    rod: str
    measure: RodMeasure
    found_mm: float
    least_mm: float


@dataclass(frozen=True, slots=True)
class RodUnmeasured:
    """A measure of a rod that is not recorded."""

    rod: str
    measure: RodMeasure


@dataclass(frozen=True, slots=True)
class ElectrodesFacts:
    """The electrodes of the service, and what is wrong or missing of rods."""

    found: frozenset[FoundElectrode]
    basis: ElectrodeBasis
    rods_required: int
    resistance_ohm: float | None
    most_ohm: float | None
    """With no more than this a rod is enough alone; None where nothing excuses it."""
    short: frozenset[RodShort] = frozenset()
    missing: frozenset[RodUnmeasured] = frozenset()

    @property
    def tested(self) -> bool:
        """Whether resistance decides about a rod alone."""
        few = self.basis is ElectrodeBasis.FEW_RODS
        return few and self.resistance_ohm is not None and self.most_ohm is not None

    @property
    def fits(self) -> bool | None:
        """Whether they are enough; None while a fact is missing."""
        if self.basis is ElectrodeBasis.PIPE_ALONE or self.short:
            return False
        if self.basis is ElectrodeBasis.FEW_RODS:
            return self.tested and (self.resistance_ohm or 0) <= (self.most_ohm or 0)
        if self.basis is ElectrodeBasis.NONE or self.missing:
            return None
        return True

    @property
    def rods(self) -> int:
        """How many rods there are."""
        return sum(1 for electrode in self.found if electrode.kind is Electrode.ROD)


def tell(finding: Finding) -> FindingWords:
    """The electrodes and what is wrong or missing."""
    facts: ElectrodesFacts = finding.facts
    if facts.basis is ElectrodeBasis.NONE:
        return panel_not_recorded((ANY(),), remedy=RECORD_EACH())
    working = _working(facts)
    if finding.verdict is Verdict.INFO_NEEDED:
        missing = []
        for measure in RodMeasure:
            rods = {each.rod for each in facts.missing if each.measure is measure}
            if rods:
                missing.append(_rods(MISSING[measure], rods))
        return panel_not_recorded(missing, working=working)
    if facts.short:
        return _short(facts, working)
    if facts.basis is ElectrodeBasis.PIPE_ALONE:
        return FindingWords(PIPE_ALONE(), working=working, remedy=ADD())
    if facts.basis is ElectrodeBasis.FEW_RODS:
        return _few(facts, working)
    return FindingWords(GROUNDED[finding.code](electrodes=_told(facts.found)), working=working)


def _few(facts: ElectrodesFacts, working: tuple[Value, ...]) -> FindingWords:
    """Fewer rods than required, by their resistance where that decides."""
    required = facts.rods_required
    remedy: Value = DRIVE()
    if facts.tested:
        ohms, most = _resistance(facts)
        if facts.fits:
            remedy = ""
        return FindingWords(RESISTANCE(ohms=ohms, most=most), ohms, most, working, remedy)
    if facts.most_ohm is not None:
        remedy = DRIVE_OR_TEST(most=Ohms(facts.most_ohm))
    says = FEW(n=facts.rods, required=required)
    return FindingWords(says, facts.rods, required, working, remedy)


def _resistance(facts: ElectrodesFacts) -> tuple[Ohms, Ohms]:
    """What was measured, rounded to its side, and the limit."""
    rounding = figure_rounding(Comparator.AT_MOST, facts.fits)
    most = Ohms(facts.most_ohm or 0, limit_rounding(Comparator.AT_MOST))
    return Ohms(facts.resistance_ohm or 0, rounding), most


def _short(facts: ElectrodesFacts, working: tuple[Value, ...]) -> FindingWords:
    """Rods too near each other or not driven deep enough: by the worst, and how many they are."""
    says = []
    figures = []
    limits = []
    remedies = []
    for measure in RodMeasure:
        alike = [each for each in facts.short if each.measure is measure]
        if not alike:
            continue
        worst = _in_order(alike)[0]
        found, least = _lengths(worst.found_mm, worst.least_mm)
        rods = {each.rod for each in alike}
        says.append(_rods(SHORT_OF[measure], rods, found=found, least=least))
        figures.append(found)
        limits.append(least)
        remedies.append(REMEDIES[measure]())
    return FindingWords(
        Joined(tuple(says)),
        Joined(tuple(figures), "; "),
        Joined(tuple(limits), "; "),
        working,
        Joined(tuple(remedies)),
    )


def _lengths(found_mm: float, least_mm: float) -> tuple[Length, Length]:
    """A figure that is too little, and its limit, each rounded to its side."""
    found = Length(found_mm, figure_rounding(WAY, False))
    return found, Length(least_mm, limit_rounding(WAY))


def _rods(said: Message, rods: Collection[str], **holes: Value) -> Text:
    """A sentence about rods: one by its id, several by how many they are."""
    ordered = in_order(rods)
    return said(rods=Listed(ordered), n=len(ordered), **holes)


def _in_order(short: Iterable[RodShort]) -> list[RodShort]:
    return sorted(short, key=lambda each: (each.measure, each.found_mm, natural(each.rod)))


def _named(electrodes: Iterable[FoundElectrode]) -> Value:
    """Every electrode by its id."""
    ordered = sorted(electrodes, key=lambda each: (each.kind, natural(each.id)))
    return Listed(tuple(electrode_named(each.kind, each.id) for each in ordered))


def _told(electrodes: Collection[FoundElectrode]) -> Value:
    """Electrodes by their ids while they are few; else how many."""
    if len(electrodes) > MOST_NAMED:
        return COUNTED(n=len(electrodes))
    return _named(electrodes)


def _working(facts: ElectrodesFacts) -> tuple[Value, ...]:
    """The electrodes, what decides about them, and each rod that is short or missing a fact."""
    lines: list[Value] = [FOUND(electrodes=_named(facts.found))]
    enough = [each for each in facts.found if each.kind in SUFFICIENT]
    beside = [each for each in facts.found if each.kind is not Electrode.WATER_PIPE]
    if facts.basis is ElectrodeBasis.ENOUGH_ALONE:
        lines.append(ENOUGH(electrodes=_named(enough)))
    if facts.basis is ElectrodeBasis.PIPE and beside:
        lines.append(BESIDE(electrodes=_named(beside)))
    if facts.basis in (ElectrodeBasis.RODS, ElectrodeBasis.FEW_RODS):
        lines.append(RODS(n=facts.rods, required=facts.rods_required))
    if facts.tested:
        ohms, most = _resistance(facts)
        lines.append(TESTED(ohms=ohms, most=most))
    return (*lines, *_rod_lines(facts))


def _rod_lines(facts: ElectrodesFacts) -> Iterator[Text]:
    """Each rod by itself: what is short of it, and what is not recorded."""
    for short in _in_order(facts.short):
        found, least = _lengths(short.found_mm, short.least_mm)
        yield ROD_LINE[short.measure](rod=short.rod, found=found, least=least)
    line = STILL_MISSING
    if facts.short:
        line = EITHER_WAY
    elif len(facts.missing) == 1:
        return
    for each in sorted(facts.missing, key=lambda each: (each.measure, natural(each.rod))):
        yield line(what=_rods(MISSING[each.measure], {each.rod}))

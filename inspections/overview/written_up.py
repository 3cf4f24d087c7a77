"""What inspectors wrote up, counted: which reasons come back, what inspections end in."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from uuid import UUID

from config.messages.message import Text
from inspections.checker.finding import rules
from inspections.models import (
    Acceptance,
    Answer,
    Deficiency,
    Happening,
    InspectionEvent,
    InspectionKind,
    JobAnswer,
)
from inspections.overview.figure_messages import OTHER as NAMELESS
from jobs.models import Shop

OTHER = "other"
"""The key of what names neither a rule nor a section."""


@dataclass(frozen=True, slots=True)
class ReasonCount:
    """One reason and how often it was written up."""

    key: str
    reason: Text | str
    """The rule, or the section as somebody typed it."""
    called: int
    job_ids: frozenset[UUID]
    open: int
    mean_days_to_correct: float | None
    """From written up to recorded as corrected; None while none is corrected."""


@dataclass(frozen=True, slots=True)
class InspectionCount:
    """Inspections of one kind and what they ended in."""

    kind: InspectionKind
    held: int
    accepted: int
    """Ended with everything accepted, deficiencies or not."""
    no_access: int
    nobody_came: int
    job_ids: frozenset[UUID]

    @property
    def accepted_share(self) -> float | None:
        """The share of held inspections that ended in acceptance."""
        if self.held:
            return self.accepted / self.held
        return None


def reasons_called(shop: Shop) -> list[ReasonCount]:
    """What was written up in a shop by rule, else by section, the most frequent first."""
    by_reason: dict[str, list[Deficiency]] = {}
    for each in Deficiency.objects.filter(job__shop=shop):
        by_reason.setdefault(each.rule or each.section or OTHER, []).append(each)
    tallies = []
    for reason, group in by_reason.items():
        tallies.append(_count(reason, group))
    return sorted(tallies, key=lambda each: (-each.called, each.key))


def _reason(key: str) -> Text | str:
    if key == OTHER:
        return NAMELESS()
    rule = rules().get(key)
    if rule:
        return rule.named
    return key


def _count(key: str, group: list[Deficiency]) -> ReasonCount:
    spans = []
    for each in group:
        if each.corrected_at:
            spans.append(each.corrected_at - each.called_at)
    days = sum(spans, timedelta()) / timedelta(days=1)
    job_ids = []
    for each in group:
        job_ids.append(each.job_id)
    return ReasonCount(
        key,
        _reason(key),
        called=len(group),
        job_ids=frozenset(job_ids),
        open=sum(each.accepted_at is None for each in group),
        mean_days_to_correct=days / len(spans) if spans else None,
    )


def inspections_counted(shop: Shop) -> list[InspectionCount]:
    """How the inspections of a shop ended, by kind; a kind that had none is left out."""
    events = InspectionEvent.objects.filter(inspection__job__shop=shop)
    happened = list(
        events.values_list("inspection__kind", "inspection_id", "happening", "inspection__job")
    )
    refused = _refused(shop)
    found = []
    for kind in InspectionKind:
        mine = []
        for of, inspection, what, _ in happened:
            if of == kind:
                mine.append((inspection, what))
        held = set()
        for inspection, what in mine:
            if what == Happening.HELD:
                held.add(inspection)
        if mine:
            jobs = []
            for of, _, _, job in happened:
                if of == kind:
                    jobs.append(job)
            found.append(
                InspectionCount(
                    kind,
                    len(held),
                    len(held - refused),
                    _times(mine, Happening.NO_ACCESS),
                    _times(mine, Happening.NOBODY_CAME),
                    frozenset(jobs),
                )
            )
    return found


def _times(mine: Iterable[tuple[object, str]], happening: Happening) -> int:
    total = 0
    for _, what in mine:
        total += what == happening
    return total


def _refused(shop: Shop) -> set[object]:
    """The inspections at which the inspector said no, to the job or to any of its areas."""
    no = Answer.NOT_ACCEPTED
    areas = Acceptance.objects.filter(area__job__shop=shop, answer=no, inspection__isnull=False)
    jobs = JobAnswer.objects.filter(inspection__job__shop=shop, answer=no)
    return {
        *areas.values_list("inspection_id", flat=True),
        *jobs.values_list("inspection_id", flat=True),
    }

"""What somebody has seen who corrects a fact where he stands: the items that it settles."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from inspections.checker.finding import Verdict, rules
from inspections.checker.house.fixes import Fix
from inspections.checker.house.paths import Path
from inspections.checker.site import HouseByCode
from inspections.fixes.fixes import TO_FIX, HouseFacts, fixes_of
from inspections.models import Given, HouseRevision, Item, Outcome
from inspections.selectors import house_of
from inspections.services.observations import item_observe
from jobs.access import role_in
from jobs.models import Job, Person, Role


@dataclass(frozen=True, slots=True)
class Fixed:
    """A line that a fact could settle, before it was corrected."""

    rule: str
    subject: str
    fix: Fix


def fixed_by(job: Job, revision: HouseRevision, paths: Sequence[Path]) -> list[Fixed]:
    """The lines not to code or short of info that these facts could settle, as the house was."""
    house, book = house_of(revision)
    facts, site = HouseFacts(house), HouseByCode(house, book)
    open_items = Item.objects.filter(job=job, current=True, verdict__in=TO_FIX)
    found = []
    for name in sorted(set(open_items.values_list("rule", flat=True))):
        if name not in rules():  # of an older program
            continue
        for finding in rules()[name].check(site):
            for fix in fixes_of(facts, finding):
                if fix.path in paths:
                    found.append(Fixed(finding.rule.id, finding.subject, fix))
    return found


def confirm_fixed(
    actor: Person,
    job: Job,
    fixed: Sequence[Fixed],
    path: Path,
    value: Any,
    typed: str,
    seen_at: datetime,
) -> None:
    """Record that whoever corrected a fact has seen what it settled, where hands make that.

    A drawing that complies waits for the site; who measured or replaced the thing stands there.
    The office is not on site: what it records stays OK on plan until somebody confirms it there.
    """
    if role_in(actor, job.shop) is Role.OFFICE:
        return
    for each in fixed:
        if each.fix.path != path:
            continue
        item = Item.objects.filter(
            job=job,
            rule=each.rule,
            subject=each.subject,
            current=True,
            verdict=Verdict.OK,
            workmanship=True,
        ).first()
        if item is None:
            continue
        mm = _taped(item, each.fix, value)
        item_observe(
            actor,
            item=item,
            outcome=Outcome.OK,
            seen_at=seen_at,
            measured_mm=mm,
            measured_typed=typed if mm is not None else "",
            given=Given.FIXED,
        )


def _taped(item: Item, fix: Fix, value: Any) -> float | None:
    """The figure, where it is what the item's tape measures."""
    measure = item.measure
    if not fix.taped or measure is None or not isinstance(value, int | float):
        return None
    if (measure.min_mm, measure.max_mm) != (fix.least, fix.most):
        return None
    return float(value)

"""What recording a house would change, told before it is recorded."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from inspections import checker
from inspections.checker.changes import Changed, house_changes
from inspections.checker.workbook import house_json
from inspections.conclusions.items import items_with_seen
from inspections.houses.amendments import rulebook_of_shop
from inspections.models import HouseRevision
from inspections.selectors import insulated, latest_revision
from inspections.standing.holds import Seen
from jobs.models import Job

SHOWN = 20


@dataclass(frozen=True, slots=True)
class Preview:
    """What would change: parts of the house, verdicts, and what is to be looked at again."""

    text: str
    """The house file that would be recorded."""
    base: int
    """The number of the revision that it changes; 0 before there is any."""
    changes: Sequence[Changed]
    verdicts: Sequence[tuple[str, int, int]]
    """Each verdict with how many items have it now, and would have."""
    wanting: Sequence[checker.Finding]
    """What would newly be short or unknown, the first of it."""
    wanting_count: int
    opened: Sequence[str]
    """Items that passed by a look and would be open again, since their facts change."""


def house_preview(job: Job, house: bytes, rulebook: str = "") -> Preview:
    """What recording these bytes would change. Writes nothing.

    Raises checker.HouseFaults or checker.RulebookFault as recording does.
    """
    text = house_json(house)
    value = checker.load_house(text)
    chosen = rulebook or value.rulebook
    if not chosen:
        raise checker.RulebookFault("rulebook: is missing; name the one the house is built to")
    found = checker.check(insulated(value, job), rulebook_of_shop(job.shop, chosen))
    revision = latest_revision(job)
    items = list(items_with_seen(job.items.filter(current=True)))
    was = {}
    for item in items:
        was[f"{item.rule}:{item.subject}"] = item
    now = {}
    for finding in found:
        now[finding.key] = finding
    poor = (checker.Verdict.SHORT, checker.Verdict.UNKNOWN)
    verdicts = {}
    for key, item in was.items():
        verdicts[key] = item.verdict
    wanting = []
    for key, f in now.items():
        if f.verdict in poor and verdicts.get(key) != f.verdict:
            wanting.append(f)
    opened = []
    for key, item in was.items():
        if item.seen == Seen.PASS and (key not in now or now[key].fingerprint != item.fingerprint):
            opened.append(f"{item.finding['title']}: {item.finding['where']}")
    before, after = (
        Counter(str(v) for v in each)
        for each in ([item.verdict for item in items], [finding.verdict.value for finding in found])
    )
    made = []
    for v in checker.Verdict:
        made.append((v.value, before[v.value], after[v.value]))
    return Preview(
        text=text.decode(),
        base=revision.number if revision else 0,
        changes=house_changes(_house(revision), value),
        verdicts=made,
        wanting=wanting[:SHOWN],
        wanting_count=len(wanting),
        opened=opened,
    )


def _house(revision: HouseRevision | None) -> checker.House | None:
    if revision:
        return checker.load_house(revision.house.encode())
    return None

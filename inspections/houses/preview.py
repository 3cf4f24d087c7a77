"""What recording a house would change, told before it is recorded."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from config.messages.kept import in_english
from inspections.checker.changes import Changed, house_changes
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.checker.rulebook import LimitFault, RulebookFault
from inspections.checker.rulebook_messages import NOT_CHOSEN
from inspections.checker.workbook import house_json
from inspections.conclusions.items import items_with_seen
from inspections.houses.amendments import rulebook_of_shop
from inspections.models import HouseRevision, Item
from inspections.selectors import insulated, latest_revision
from inspections.standing.holds import PASSES
from jobs.models import Job

if TYPE_CHECKING:
    from inspections.conclusions.items import SeenItem

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
    wanting: Sequence[Finding]
    """What would newly be short or unknown, the first of it."""
    wanting_count: int
    opened: Sequence[str]
    """Items that passed by a look and would be open again, since their facts change."""


def house_preview(job: Job, house: bytes, rulebook: str = "") -> Preview:
    """What recording these bytes would change. Writes nothing.

    Raises checker.HouseFaults or checker.RulebookFault as recording does.
    """
    text = house_json(house)
    value = load_house(text)
    chosen = rulebook or value.rulebook
    if not chosen:
        raise RulebookFault(LimitFault("rulebook", NOT_CHOSEN()))
    findings = check(insulated(value, job), rulebook_of_shop(job.shop, chosen))
    revision = latest_revision(job)
    items = list(items_with_seen(job.items.filter(current=True)))
    wanting = _newly_wanting(items, findings)
    return Preview(
        text=text.decode(),
        base=revision.number if revision else 0,
        changes=house_changes(_house(revision), value),
        verdicts=_verdict_counts(items, findings),
        wanting=wanting[:SHOWN],
        wanting_count=len(wanting),
        opened=_opened(items, findings),
    )


def _newly_wanting(items: Sequence[Item], findings: Sequence[Finding]) -> list[Finding]:
    """What would be short or unknown and is otherwise now."""
    verdicts = {}
    for item in items:
        verdicts[_item_key(item)] = item.verdict
    wanting: list[Finding] = []
    for finding in findings:
        poor = finding.verdict in (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)
        if poor and verdicts.get(finding.key) != finding.verdict:
            wanting.append(finding)
    return wanting


def _opened(items: "Sequence[SeenItem]", findings: Sequence[Finding]) -> list[str]:
    """What passed by a look and has other facts then, or none."""
    fingerprints = {finding.key: finding.fingerprint for finding in findings}
    opened: list[str] = []
    for item in items:
        if item.seen in PASSES and fingerprints.get(_item_key(item)) != item.fingerprint:
            opened.append(
                f"{in_english(item.finding['title'])}: {in_english(item.finding['where'])}"
            )
    return opened


def _verdict_counts(
    items: Sequence[Item], findings: Sequence[Finding]
) -> list[tuple[str, int, int]]:
    """How many items have each verdict now, and would have."""
    before = Counter(str(item.verdict) for item in items)
    after = Counter(finding.verdict.value for finding in findings)
    return [(each.value, before[each.value], after[each.value]) for each in Verdict]


def _item_key(item: Item) -> str:
    """The key of the finding that an item was drawn from."""
    return f"{item.rule}:{item.subject}"


def _house(revision: HouseRevision | None) -> House | None:
    if revision:
        return load_house(revision.house.encode())
    return None

"""The nightly audit found that what is shown is not what the records give."""

import hashlib
import json
from collections.abc import Iterator, Mapping

from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import ShopFacts

SAYS = {
    "cover release": "shown as OK to cover, and something holds it",
    "area": "what is shown to hold it is not what the records give",
    "stage": "the stage is not what the records give",
    "item": "the checklist is not what the house gives",
    "settling": "what is shown was not worked out anew in time",
    "notice": "what people were told is not what the records give",
    "delivery": "a message went out otherwise than it should have",
    "shop": "a record refers to another job or shop",
    "moment": "a date on record is out of range",
    "contradiction": "two records contradict each other",
    "record": "the history of the job is not as it was written",
    "reading": "its records cannot be read",
}
"""What a difference is about, as the office reads it; the log has what it is in the tables."""
UNSAFE = "cover release"


@shop_reason("audit", NoticeKind.AUDIT)
def audit(facts: ShopFacts) -> Iterator[Due]:
    """To the office, once for the same differences, until an audit finds none.

    Urgent where an area is shown as OK to cover that is held.
    """
    found = facts.audited
    if found is None or not found.differences:
        return
    lines = []
    for each in found.lines:
        lines.append(_line(each))
    unsafe = False
    for each in found.lines:
        if each["about"] == UNSAFE:
            unsafe = True
            break
    count = found.differences
    if count == 1:
        differences = "1 difference"
    else:
        differences = f"{count} differences"
    text = f"{facts.shop}: the nightly audit found {differences}. {lines[0]} {_remedy(unsafe)}"
    occasion = hashlib.sha256(json.dumps(found.lines, sort_keys=True).encode()).hexdigest()[:16]
    at, body = found.audited_at, "\n".join(lines)
    yield from due_for(facts.office, f"{count} {occasion}", text, at, urgent=unsafe, body=body)


def _line(each: Mapping[str, str]) -> str:
    names = []
    for part in (each["job"], each["area"]):
        if part:
            names.append(part)
    place = ", ".join(names)
    says = SAYS.get(each["about"], each["about"])
    if place:
        return f"{place}: {says}."
    return f"{says[0].upper()}{says[1:]}."


def _remedy(unsafe: bool) -> str:
    tell = "Call whoever runs Studbay for you."
    if unsafe:
        return f"Keep the area open. {tell}"
    return tell

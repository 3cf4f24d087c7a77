"""The nightly audit found that what is shown is not what the records give."""

import hashlib
import json
from collections.abc import Iterator, Mapping

from config.messages.message import Joined, Text, Value
from notifications.messages.shops import AUDIT, AUDIT_AT, AUDIT_SHOP, CALL, FOUND, KEEP_OPEN
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import ShopFacts

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
    counted = AUDIT(shop=str(facts.shop), n=count)
    remedies = [KEEP_OPEN()] if unsafe else []
    text = Joined((counted, lines[0], *remedies, CALL()))
    occasion = hashlib.sha256(json.dumps(found.lines, sort_keys=True).encode()).hexdigest()[:16]
    at = found.audited_at
    yield from due_for(facts.office, f"{count} {occasion}", text, at, urgent=unsafe, body=lines)


def _line(each: Mapping[str, str]) -> Text:
    names = []
    for part in (each["job"], each["area"]):
        if part:
            names.append(part)
    what: Value = each["about"]
    if each["about"] in FOUND:
        what = FOUND[each["about"]]()
    if names:
        return AUDIT_AT(place=", ".join(names), what=what)
    return AUDIT_SHOP(what=what)

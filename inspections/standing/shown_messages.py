"""What verdicts, looks and lines are called where people read them; stored values stay as they are.

What figures say is one set of words, what a person says another. Pure.
"""

from config.messages.message import Message, Text, message
from inspections.checker.finding import Verdict

from .holds import Seen, Standing

OK_ON_PLAN = message("verdict.met-by-plan", "OK on plan")
OK_ON_SITE = message("verdict.met-by-look", "OK on site")
NOT_TO_CODE = message("verdict.not-met", "Not to code")
VERIFY = message("verdict.by-eye", "Verify")
INFO_NEEDED = message("verdict.facts-missing", "Info needed")
VERDICTS: dict[str, Message] = {
    Verdict.OK: OK_ON_PLAN,
    Verdict.NOT_TO_CODE: NOT_TO_CODE,
    Verdict.VERIFY: VERIFY,
    Verdict.INFO_NEEDED: INFO_NEEDED,
}
"""What the figures say of a line, from facts that were drawn or recorded."""

SEEN: dict[str, Message] = {
    Seen.OK: message("look.right", "OK"),
    Seen.FIX: message("look.wrong", "Fix"),
    Seen.CANT_SEE: message("look.hidden", "Can't see"),
    Seen.NA: message("look.not-applicable", "N/A"),
}
"""What a person says of a line."""


def verdict_shown(verdict: str) -> Text:
    """A verdict as people read it."""
    return VERDICTS[verdict]()


def seen_shown(seen: str) -> Text:
    """What somebody saw as people read it."""
    return SEEN[seen]()


def line_shown(standing: Standing, verdict: str, seen: str | None) -> Text:
    """Where a line stands: by what somebody saw of its facts, else by its figures."""
    if standing is Standing.OK and seen == Seen.OK:
        return OK_ON_SITE()
    if standing is Standing.OK and seen == Seen.NA:
        return SEEN[Seen.NA]()
    if standing is Standing.FIX and verdict != Verdict.NOT_TO_CODE:
        return SEEN[Seen.FIX]()
    if standing is Standing.OPEN and seen == Seen.CANT_SEE:
        return SEEN[Seen.CANT_SEE]()
    return VERDICTS[verdict]()

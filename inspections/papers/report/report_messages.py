"""What every report says: how limits are known, and local amendments."""

from config.messages.message import Message, Text, Value, message
from inspections.checker.rulebook import Limit

LIVE_CAUTION = message(
    "report.live-caution",
    "A figure is not permission: the adopted code with its local amendments rules, and the "
    "inspector decides.",
)()
_KNOWN: dict[str, Message] = {
    "memory": message("report.from-memory", "limit from memory, not read in a source"),
    "practice": message("report.practice", "common practice, no source"),
}
_CITED = message("report.cited", "{source}")
_SOURCE = message("report.source", "{source} ({known})")
_AMENDED = message("report.amended", "amended: {limit} {was} to {now}: {reason}")
_LOOSENED = message("report.loosened", "LOOSENED: {limit} {was} to {now}: {reason}")
BY_RULEBOOK = message("report.by-rulebook", "Checked by {rulebook}")
SILENT = message("report.silent", "No limit in this code: {rule}")
AT_FINISH = message("report.at-finish", "{area} (finish)")
AREA_ROOM = message("report.area-room", "{area} / {room}")
COUNTED = message("report.counted", "{n} {verdict}")
IN_RULE = message("report.in-rule", "{rule}: {where}")
PHOTOGRAPH = message("report.photograph", "Photograph: {caption}")
FOR_HOUSE = message("report.for-house", "{sheet}: {house}")


def source_line(edition: str, section: str, known: str) -> Value:
    """Where a limit stands, and how it is known where it was not read there."""
    source = f"{edition} {section}"
    if known not in _KNOWN:
        return _CITED(source=source)
    return _SOURCE(source=source, known=_KNOWN[known]())


def amended_line(limit: Limit) -> Text:
    """An amended limit in one line; a loosened one says so."""
    line = _AMENDED
    if limit.loosened:
        line = _LOOSENED
    now = f"{limit.value} {limit.unit}".strip()
    return line(limit=limit.name, was=str(limit.amended_from), now=now, reason=limit.reason)

"""What is said in the record by another word since: an entry is chained, and stays as written."""

SAID_BEFORE: dict[str, str] = {
    "deficiency corrected": "deficiency mended",
    "site change left": "correction left",
}
"""The word of entries that are written now, to that of entries from before."""


def written_as(action: str) -> list[str]:
    """Every word under which entries of an action are kept."""
    if action in SAID_BEFORE:
        return [action, SAID_BEFORE[action]]
    return [action]

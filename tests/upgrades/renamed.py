"""What stands under another name since a database was kept: the one place that says so.

A migration that renames adds its lines here; the tests then follow, and what is kept stays as it
is. The manifest of a kept database names no table, no column and no class: it says what people see,
by its own names. Where the code has another word for a value since, WORDS gives the manifest's.
"""

RENAMED: dict[str, str] = {
    "jobs_contractor": "jobs_builder",
    "jobs_job.contractor_id": "builder_id",
    "jobs_membership.contractor_id": "builder_id",
    "jobs_invitation.contractor_id": "builder_id",
    "notifications_feed.contractor_id": "builder_id",
    "inspections_clearance": "inspections_coverrelease",
    "inspections_areastanding.cleared": "released",
    "inspections_link.clearance_id": "cover_release_id",
    "inspections_withdrawalanswer.clearance_id": "cover_release_id",
}
"""Tables, and columns as `table.column` of the old table: old to new."""
VALUES: dict[str, dict[str, str]] = {
    "jobs_membership.role": {"general_contractor": "builder"},
    "jobs_invitation.role": {"general_contractor": "builder"},
    "notifications_feed.scope": {"contractor": "builder"},
    "notifications_notice.reason": {
        "area cleared": "area released",
        "clearance withdrawn": "cover release withdrawn",
    },
}
"""Values that a migration writes anew, by `table.column` as it was kept: old to new."""
WORDS: dict[str, dict[str, str]] = {
    "stage": {},
    "hold": {},
    "standing": {},
    "outcome": {},
    "sign": {},
    "inspection": {},
    "happening": {},
    "answer": {},
    "basis": {},
    "milestone": {},
    "role": {"builder": "general_contractor"},
    "notice": {},
    "delivery": {},
    "tick": {},
}
"""What the code says today, by what it is about: to the word of the manifests."""


def word(about: str, said: object) -> str:
    """The manifest's word for what the code says."""
    text = str(said)
    return WORDS[about].get(text, text)

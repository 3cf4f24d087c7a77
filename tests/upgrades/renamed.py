"""What stands under another name since a database was kept: the one place that says so.

A migration that renames adds its lines here; the tests then follow, and what is kept stays as it
is. The manifest of a kept database names no table, no column and no class: it says what people see,
by its own names. Where the code has another word for a value since, WORDS gives the manifest's.
"""

import json
from collections.abc import Callable
from typing import Any

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
    "jobs_authority.visits_on": "inspections_on",
    "inspections_deficiency.called_at_visit_id": "called_at_inspection_id",
    "inspections_deficiency.accepted_at_visit_id": "accepted_at_inspection_id",
    "notifications_notice.visit_id": "inspection_id",
    "inspections_correction": "inspections_sitechange",
    "inspections_correctionanswer": "inspections_sitechangeanswer",
    "inspections_correctionanswer.correction_id": "site_change_id",
    "inspections_deficiency.mended_at": "corrected_at",
    "inspections_deficiency.mended_by_id": "corrected_by_id",
}
"""Tables, and columns as `table.column` of the old table: old to new."""
VALUES: dict[str, dict[str, str]] = {
    "jobs_membership.role": {"general_contractor": "builder"},
    "jobs_invitation.role": {"general_contractor": "builder"},
    "notifications_feed.scope": {"contractor": "builder"},
    "inspections_acceptance.basis": {"visit": "inspection"},
    "jobs_plannedwork.kind": {"visit": "inspection", "mend": "correction"},
    "notifications_notice.kind": {"visit": "inspection"},
    "notifications_notice.reason": {
        "area cleared": "area released",
        "clearance withdrawn": "cover release withdrawn",
        "visit booked": "inspection booked",
        "visit moved": "inspection rescheduled",
        "visit cancelled": "inspection cancelled",
        "visit tomorrow": "inspection tomorrow",
    },
    "notifications_wish.kind": {"visit": "inspection"},
    "inspections_item.verdict": {
        "meets": "ok",
        "short": "not_to_code",
        "look": "verify",
        "unknown": "info_needed",
    },
    "inspections_observation.outcome": {"pass": "ok", "fail": "fix", "absent": "cant_see"},
}
"""Values that a migration writes anew, by `table.column` as it was kept: old to new."""


def _task(value: Any) -> Any:
    """The key of a task begins with its kind."""
    kind, slash, rest = value.partition("/")
    return VALUES["jobs_plannedwork.kind"].get(kind, kind) + slash + rest


def _day_list(value: Any) -> Any:
    """A crew's list of a day by the keys of today; the order of keys says nothing."""
    content = json.loads(value)
    for house in content.get("houses", ()):
        if "visits" in house:
            house["inspections"] = house.pop("visits")
        for work in house["work"]:
            if work["kind"] == "visit":  # "mend" stays in lists that were sent
                work["kind"] = "inspection"
                work["task"] = _task(work["task"])
    return json.dumps(content, sort_keys=True)


def _sentence(value: Any) -> Any:
    """A sentence as a string of JSON; the order of keys says nothing."""
    try:
        kept = json.loads(value)
    except ValueError:
        kept = value
    return json.dumps(kept, sort_keys=True)


def _lines(value: Any) -> Any:
    """Lines as a list of JSON."""
    try:
        kept = json.loads(value)
    except ValueError:
        kept = value.splitlines()
    return json.dumps(kept, sort_keys=True)


def _finding(value: Any) -> Any:
    """A finding with its verdict by the name of today; the order of keys says nothing."""
    kept = value
    if isinstance(value, str):
        kept = json.loads(value)
    verdict = kept.get("verdict")
    kept["verdict"] = VALUES["inspections_item.verdict"].get(verdict, verdict)
    return json.dumps(kept, sort_keys=True)


ANEW: dict[str, Callable[[Any], Any]] = {
    "jobs_daylist.content": _day_list,
    "inspections_item.finding": _finding,
    "jobs_plannedwork.task": _task,
    "jobs_plannedwork.name": _sentence,
    "inspections_pack.part": _sentence,
    "jobs_workreport.task": _task,
    "notifications_notice.text": _sentence,
    "notifications_notice.body": _lines,
    "notifications_delivery.fault": _sentence,
    "notifications_try.fault": _sentence,
    "notifications_gateway.fault": _sentence,
    "notifications_address.paused_because": _sentence,
}
"""Values that a migration writes anew by a rule, by `table.column` as it was kept.

What the rule makes of a value that it made already is that value.
"""
PHONE: dict[str, str] = {"correction": "site-change"}
"""What the walk on a phone calls an entry and its address since: old to new. A phone reads what it
keeps by the new name, and sends to the address of the page that it then loads."""
WORDS: dict[str, dict[str, str]] = {
    "stage": {},
    "hold": {"fix": "failing", "info_needed": "unknown"},
    "standing": {"ok": "passed", "fix": "failing", "info_needed": "unknown"},
    "outcome": {"ok": "pass", "fix": "fail", "cant_see": "absent"},
    "sign": {},
    "inspection": {},
    "happening": {},
    "answer": {},
    "basis": {"inspection": "visit"},
    "milestone": {},
    "role": {"builder": "general_contractor"},
    "notice": {"inspection": "visit"},
    "delivery": {},
    "tick": {},
}
"""What the code says today, by what it is about: to the word of the manifests."""


def word(about: str, said: object) -> str:
    """The manifest's word for what the code says."""
    text = str(said)
    return WORDS[about].get(text, text)

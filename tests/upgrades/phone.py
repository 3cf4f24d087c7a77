"""A phone that loaded its walk before an upgrade: what it keeps, and how it sends that afterwards.

It keeps what `static/js/walk/store.js` keeps and sends as `static/js/walk/sync.js` does: to the
addresses that its page had, ticks first, then photographs, then site changes.
"""

import base64
import json
import re
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid5

from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from jobs.models import Job, Person
from tests.sure import sure
from tests.upgrades.renamed import PHONE

SENT_OF_TICK = (
    "id", "item", "outcome", "fingerprint", "made_at", "known_at", "note", "measured_mm",
)  # fmt: skip
SENT_OF_SITE_CHANGE = ("id", "box", "at_mm", "height_mm", "note", "made_at")
ADDRESSES = ("data", "sync", "photograph", "site-change")
MOST = 60
"""How many items of the walk are ticked."""
JSON = "application/json"

Entry = dict[str, Any]


def load(person: Person, job: Job) -> dict[str, Any]:
    """The page of the walk with its addresses, and what it reads of the job."""
    client = Client(SERVER_NAME="localhost")
    client.force_login(person)
    page = client.get(f"/walk/{job.id}/").content.decode()
    urls = {}
    for name in ADDRESSES:
        urls[name] = sure(re.search(f'data-{name}="([^"]+)"', page))[1]
    data = client.get(urls["data"]).json()
    del data["csrf"]
    return {
        "person": person.username,
        "session": client.cookies[settings.SESSION_COOKIE_NAME].value,
        "job": str(job.id),
        "urls": urls,
        "data": data,
        "loaded_at": timezone.now().isoformat(),
    }


def shown_items(data: dict[str, Any]) -> list[dict[str, Any]]:
    """Every item that the phone shows."""
    found = []
    for room in data["rooms"]:
        found.extend(room["items"])
    return found


def boxes(loaded: dict[str, Any]) -> list[str]:
    """The boxes on walls that the ticked items are of."""
    found = []
    for item in shown_items(loaded["data"])[:MOST]:
        box = item["box"]
        if box is not None and box["id"] not in found:
            found.append(box["id"])
    return found


def ticked(loaded: dict[str, Any], photograph: bytes, box: str) -> dict[str, Any]:
    """The phone, after somebody walked without signal: ticks of all kinds, photographs, a box
    found elsewhere."""
    entries: list[dict[str, Any]] = []
    for item in shown_items(loaded["data"])[:MOST]:
        number = len(entries)
        stamp = _stamp(loaded, item, number)
        entries.append(stamp | _tick(item, number))
        if number % 30 == 0:
            stamp = _stamp(loaded, item, number + 1000)
            kept = base64.b64encode(photograph).decode()
            entries.append(stamp | {"kind": "photograph", "type": "image/jpeg", "bytes": kept})
    stamp = _stamp(loaded, shown_items(loaded["data"])[0], 2000)
    place = {"box": box, "at_mm": 610.0, "height_mm": 400.0, "note": "stud in the way"}
    entries.append(stamp | {"kind": "site-change"} | place)
    return loaded | {"queue": entries}


def _stamp(loaded: dict[str, Any], item: dict[str, Any], number: int) -> Entry:
    """What the phone puts to whatever somebody gives."""
    made_at = datetime.fromisoformat(loaded["loaded_at"]) + timedelta(minutes=1, seconds=number)
    return {
        "id": str(uuid5(UUID(loaded["job"]), str(number))),
        "person": loaded["data"]["person"],
        "job": loaded["job"],
        "item": item["id"],
        "fingerprint": item["fingerprint"],
        "made_at": made_at.isoformat(),
        "known_at": item["known_at"],
        "state": "waiting",
        "says": "",
    }


def _tick(item: dict[str, Any], number: int) -> Entry:
    outcome = ("pass", "pass", "pass", "fail", "absent")[number % 5]
    measure = item["measure"]
    measured = None
    if measure is not None and outcome == "pass":
        measured = measure["min_mm"]
        if measured is None:
            measured = measure["max_mm"]
    note = f"tick {number}"
    return {"kind": "tick", "outcome": outcome, "note": note, "measured_mm": measured}


def passed(queue: dict[str, Any]) -> list[Entry]:
    """The ticks that say that all is well."""
    found = []
    for entry in of_kind(queue, "tick"):
        if entry["outcome"] == "pass":
            found.append(entry)
    return found


def of_kind(queue: dict[str, Any], kind: str) -> list[Entry]:
    """What waits of one kind, in the order made."""
    found = []
    for entry in queue["queue"]:
        if entry["kind"] == kind:
            found.append(entry)
    return found


def as_loaded_again(queue: dict[str, Any]) -> dict[str, Any]:
    """The phone after its page was loaded anew: entries and addresses have the names of today."""
    entries = []
    for entry in queue["queue"]:
        entries.append(entry | {"kind": PHONE.get(entry["kind"], entry["kind"])})
    urls = {}
    for name, url in queue["urls"].items():
        now = PHONE.get(name, name)
        urls[now] = url.removesuffix(name) + now
    return queue | {"queue": entries, "urls": urls}


def _its_client(queue: dict[str, Any]) -> Client:
    """The phone itself, which was signed in when it loaded its walk."""
    client = Client(SERVER_NAME="localhost")
    client.cookies[settings.SESSION_COOKIE_NAME] = queue["session"]
    return client


def send(queue: dict[str, Any]) -> dict[str, str]:
    """Send all that waits; what the site says became of each, by its id."""
    client = _its_client(queue)
    queue = as_loaded_again(queue)
    became = {}
    ticks = []
    for entry in of_kind(queue, "tick"):
        ticks.append(_some(entry, SENT_OF_TICK))
    body = json.dumps({"phone_now": timezone.now().isoformat(), "ticks": ticks})
    for taken in _answered(client.post(queue["urls"]["sync"], body, content_type=JSON))["taken"]:
        became[taken["id"]] = taken["state"]
    for entry in of_kind(queue, "photograph"):
        form = _some(entry, ("id", "item", "fingerprint"))
        content = base64.b64decode(entry["bytes"])
        form["file"] = SimpleUploadedFile(f"{entry['id']}.jpg", content, entry["type"])
        became[entry["id"]] = _answered(client.post(queue["urls"]["photograph"], form))["state"]
    for entry in of_kind(queue, "site-change"):
        body = json.dumps(_some(entry, SENT_OF_SITE_CHANGE))
        answer = client.post(queue["urls"]["site-change"], body, content_type=JSON)
        became[entry["id"]] = _answered(answer)["state"]
    return became


def _some(entry: Entry, names: tuple[str, ...]) -> Entry:
    found = {}
    for name in names:
        found[name] = entry[name]
    return found


def _answered(answer: Any) -> dict[str, Any]:
    assert answer.status_code == 200, (answer.status_code, answer.content[:500])
    told: dict[str, Any] = answer.json()
    return told


def gone(queue: dict[str, Any]) -> list[str]:
    """Items that the phone shows and the site does not know any more, read anew."""
    client = _its_client(queue)
    fresh = _answered(client.get(queue["urls"]["data"]))
    there = set()
    for item in shown_items(fresh):
        there.add(item["id"])
    missing = []
    for item in shown_items(queue["data"]):
        if item["id"] not in there:
            missing.append(item["id"])
    return missing

"""What is written to each address that takes something, so that it is taken."""

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

import pyotp

from inspections.checker.finding import Verdict
from inspections.checker.house.paths import value_at
from inspections.models import Item
from inspections.overview.rooms import rooms_to_confirm
from inspections.selectors import latest_revision
from tests.inspections.tiny import HOUSES
from tests.isolation.world import NOW, World
from tests.sure import sure, the_first

Made = Callable[[World], dict[str, Any]]
DAY = "2026-03-17"
LIMIT = {"rulebook": "cec-2021", "limit": "counter-receptacles.min_width_mm"}


@dataclass(frozen=True)
class Body:
    """One body, by whom and how it is sent."""

    caller: str
    data: dict[str, Any] | Made | None = None
    method: str = "POST"
    json: bool = False
    ids: Made | None = None
    """In place of the usual ids in the address."""
    files: dict[str, str] = field(default_factory=dict)
    query: str = ""

    def made(self, world: World) -> dict[str, Any]:
        """What it says in that world; nothing where nothing is written."""
        if self.data is None:
            return {}
        return self.data(world) if callable(self.data) else self.data


def sent(caller: str, data: dict[str, Any] | Made | None = None, **given: Any) -> Body:
    """A form."""
    return Body(caller, data if data is not None else {}, **given)


def told(caller: str, data: dict[str, Any] | Made | None = None, **given: Any) -> Body:
    """JSON."""
    return Body(caller, data, json=data is not None, **given)


def _done(world: World) -> dict[str, Any]:
    return {"job_id": world.done.id, "area_id": the_first(world.done.areas.order_by("id")).id}


def _begun(world: World) -> dict[str, Any]:
    return {"inspection_id": world.ids["begun_inspection"]}


def _boxes(world: World) -> str:
    boxes = json.loads(sure(latest_revision(world.job)).house)["boxes"]
    return str(next(each["id"] for each in boxes if each["place"]["surface"] == "wall"))


def _tick(world: World) -> dict[str, Any]:
    item = world.job.items.get(id=world.ids["item_id"])
    moment = NOW.isoformat()
    return {
        "id": str(UUID(int=11)),
        "item": str(item.id),
        "outcome": "fix",
        "fingerprint": item.fingerprint,
        "made_at": moment,
        "known_at": moment,
        "note": "two cables",
    }


def _walk(world: World) -> dict[str, Any]:
    return {"phone_now": NOW.isoformat(), "ticks": [_tick(world)]}


def _as_drawn(world: World) -> dict[str, Any]:
    """One item that is as drawn, in a house where much waits for that."""
    line = rooms_to_confirm(world.job)[0].lines[0]
    return {"items": [{"item": str(line.item.id), "fingerprint": line.item.fingerprint}]}


def _site_change(world: World) -> dict[str, Any]:
    given = {"id": str(UUID(int=12)), "box": _boxes(world), "at_mm": 700.0}
    return given | {"made_at": NOW.isoformat()}


def _correction(world: World) -> dict[str, Any]:
    revision = sure(latest_revision(world.job))
    path = ["boxes", _boxes(world), "setback_mm"]
    was = value_at(json.loads(revision.house), tuple(path))
    change = {"path": path, "was": was, "now": 4.0, "typed": "4 mm"}
    return {"id": str(UUID(int=14)), "base": revision.number, "changes": [change]}


def _job(world: World) -> dict[str, Any]:
    return {
        "name": "Lot 17",
        "address": "17 Quillet Lane",
        "builder": str(world.shop.firm.id),
        "authority": str(world.shop.authority.id),
    }


def _job_form(world: World) -> dict[str, Any]:
    return _job(world) | {"crew_lead": str(world.shop.lead.id), "drywall_on": "2026-03-20"}


def _house(world: World) -> dict[str, Any]:
    return {"house": json.loads(HOUSES["rerouted"])}


def _code(world: World) -> dict[str, Any]:
    return {"code": pyotp.TOTP(world.secret_of_factor).at(NOW)}


def _pending_code(world: World) -> dict[str, Any]:
    pending = world.shop.builder.second_factors.get()
    return {"code": pyotp.TOTP(pending.pending).at(NOW)}


def _person(world: World) -> dict[str, Any]:
    days = {"from_day": DAY, "to_day": DAY, "why": "dentist"}
    return days | {"person": str(world.shop.member.id), "skill": "apprentice"}


def _answers(world: World) -> dict[str, Any]:
    return {"answer": "accepted", "reference": "F-1"}


def _rules(_world: World) -> dict[str, Any]:
    return {
        "morning": "07:00",
        "list_at": "16:00",
        "permit_wait_days": "14",
        "acknowledge_minutes": "30",
        "permit_days": "30, 14",
        "cover_days": "3, 1",
        "owner": "",
        "summary_on": "0",
    }


def _work_rules(world: World) -> dict[str, Any]:
    from jobs.planning.rates import STARTING

    rates = "\n".join(f"{name} {minutes}" for name, minutes in STARTING.items())
    return {
        "works_on": ["0", "1", "2", "3", "4"],
        "from_hour": "08:00",
        "parts": "2",
        "part_minutes": "240",
        "break_minutes": "30",
        "weeks": "6",
        "cover_days": "10",
        "change_cost": "1",
        "speed_kmh": "40",
        "rates": rates,
    }


def _authority(_world: World) -> dict[str, Any]:
    return {
        "name": "Inspection office",
        "notice_days": "2",
        "notice_hours": "0",
        "works_on": ["0", "1", "2", "3", "4"],
        "inspections_on": ["0", "1", "2"],
        "from_hour": "08:00",
        "to_hour": "16:00",
        "takes_parts": "on",
    }


def _drawn(world: World) -> dict[str, Any]:
    house = json.loads(HOUSES["clean"])
    return {"house": house, "rulebook": "cec-2021", "storey": "main", "studs_mm": 406}


def _shown(world: World) -> dict[str, Any]:
    item = world.job.items.get(id=world.ids["item_id"])
    return {"outcome": "ok", "note": "seen", "shown": item.fingerprint}


def _room_as_drawn(world: World) -> dict[str, Any]:
    """The same as `_as_drawn`, as the page of a job sends it."""
    ticked = []
    for each in _as_drawn(world)["items"]:
        ticked.append(f"{each['item']} {each['fingerprint']}")
    return {"item": ticked, "note": "with the plan"}


def _finish_item(world: World) -> dict[str, Any]:
    finish = world.done.items.filter(stage=Item.Stage.FINISH, verdict=Verdict.VERIFY)
    return {"item_id": sure(finish.order_by("position").last()).id}


PICTURE = {"photograph": "picture"}
PEOPLE = {"full_name": "Robin Vale", "username": "robin", "password": "a long enough one"}
WAYS = {"way-inspection": "email", "at-once-inspection": "on"}
WITHDRAW = {"because": "a plumber drilled a stud"}
ANSWERED = {"says": "the stud is plated", "inspect_again": "no"}
HOOKUP_GONE = {"milestone": "temporary service removed", "reached_on": "2026-03-16"}
ONE = {"area_id": None}

PAGES: dict[str, list[Body]] = {
    "account_login": [sent("n", lambda w: {"login": w.shop.lead.username, "password": "rough-in"})],
    "mfa_authenticate": [sent("h", _code), Body("h", method="GET")],
    "account_change_password": [
        sent("o", {"oldpassword": "rough-in", "password1": "a long enough one"})
    ],
    "account_logout": [sent("o")],
    "account_reset_password": [sent("n", {"email": "nobody@studbay.example"})],
    "mail-kept": [sent("n")],
    "mail-new": [sent("o", {"email": "office@studbay.example"})],
    "passkey-remove": [sent("m")],
    "passkey-rename": [sent("m", {"name": "work phone"})],
    "session-end": [sent("m")],
    "sessions-end": [sent("o")],
    "way-back": [sent("n", {"password": "a long enough one"})],
    "way-back-new": [sent("o")],
    "job-new": [sent("o", _job_form)],
    "job-edit": [sent("o", _job_form)],
    "draw-model": [sent("o", files={"model": "drawing"})],
    "draw-look": [told("o", _drawn)],
    "draw-finish": [told("o", _drawn)],
    "house-upload": [
        sent("l", {"text": HOUSES["rerouted"].decode(), "base": "1", "why": "moved"}, ids=_done),
        sent("l", {"text": HOUSES["rerouted"].decode(), "look": "1"}, ids=_done),
    ],
    "pack-new": [sent("o", {"kind": "inspector"})],
    "permit": [sent("o", {"number": "FH-1b", "issued_on": "2026-01-12"})],
    "permit-extend": [sent("o", {"expires_on": "2026-12-01", "reference": "X-1"})],
    "permit-day": [sent("o", {"expires_on": "2026-12-01", "because": "mistyped"})],
    "milestone": [sent("o", HOOKUP_GONE, ids=_done)],
    "ask": [sent("o", lambda w: {"kind": "final", "areas": []})],
    "insulation": [sent("b", {"kind": "batts"})],
    "site-change": [sent("o", {"accept": "1"}), sent("o", {"why": "as drawn"})],
    "trade": [
        sent("b", lambda w: {"trade": "insulation", "area": str(w.ids["area_id"])}),
    ],
    "happening": [
        sent("o", {"happening": "booked", "day": DAY, "starts": "09:00", "ends": "11:00"}),
        sent("o", {"happening": "no_access"}, ids=_begun),
    ],
    "answer": [sent("o", _answers, ids=_begun)],
    "corrected": [sent("l")],
    "deficiency-photograph": [sent("l", files=PICTURE)],
    "rule": [
        sent(
            "o",
            {"limit": LIMIT["limit"], "value": "210", "unit": "mm", "reason": "by-law 13"},
            ids=lambda w: {"rule": "counter-receptacles"},
        )
    ],
    "check-again": [sent("o")],
    "invite": [sent("o", {"role": "crew_lead", "for_whom": "Robin"})],
    "locations": [sent("o", {"keep": "on"})],
    "office-first": [sent("o", {"first": "on"})],
    "firm": [sent("o", {"name": "Ashdale Homes"})],
    "member": [sent("o", {"role": "crew_lead"}), sent("o", {"gone": "1"})],
    "factor-lift": [sent("o")],
    "factor-begin": [sent("l")],
    "factor-confirm": [sent("b", _pending_code)],
    "factor-codes": [sent("m", _code)],
    "factor-end": [sent("m", _code)],
    "invitation-withdraw": [sent("o")],
    "join": [sent("n", PEOPLE)],
    "programs": [sent("o", {"name": "meter", "scope": "read", "days": "90"})],
    "token-revoke": [sent("o")],
    "observe": [sent("l", _shown), sent("m", {"outcome": "fix", "note": "two cables"})],
    "as-drawn": [sent("m", _room_as_drawn)],
    "photograph": [sent("l", files=PICTURE)],
    "release": [sent("o", ids=_done)],
    "withdraw": [sent("o", WITHDRAW), sent("o", WITHDRAW, ids=_done)],
    "withdrawal-answer": [
        sent("l", ANSWERED),
        sent("o", ANSWERED | {"inspect_again": "yes"}),
    ],
    "undo": [sent("l")],
    "placard": [sent("l")],
    "link-make": [sent("o", {"for_whom": "Pat", "days": "30"})],
    "link-withdraw": [sent("o")],
    "link-acknowledge": [sent("n")],
    "seen": [sent("o")],
    "authority-new": [sent("o", {"name": "Another office", "template": ""})],
    "authority": [sent("o", _authority)],
    "plan-ask": [sent("o", {"first_day": "2026-03-17"})],
    "plan-tell": [sent("o")],
    "crew-open": [sent("o", lambda w: {"name": "Crew C", "person": str(w.shop.lead.id)})],
    "crew-skill": [sent("o", _person)],
    "absence": [sent("o", _person)],
    "absence-end": [sent("o")],
    "work-rules": [sent("o", _work_rules)],
    "drive-times": [sent("o", {"table": "yard,Lot 16,12"})],
    "crew-place": [sent("o", _person)],
    "crew-day-send": [sent("l", {"day": DAY})],
    "language": [sent("o", {"language": "fr"}), sent("o", {"units": "metric"})],
    "habits": [sent("o", {"time_zone": "America/Halifax"})],
    "wish": [sent("o", WAYS)],
    "address-new": [sent("o", {"channel": "email", "target": "second@studbay.example"})],
    "address-change": [sent("o")],
    "feed-new": [sent("b", lambda w: {"job": str(w.job.id)})],
    "feed-end": [sent("o")],
    "notice-office": [sent("o", _rules)],
    "gateway-new": [sent("o", {"name": "chat", "kind": "chat", "url": "https://gate/{to}"})],
    "delivery-retry": [sent("o")],
    "notice-seen": [sent("n")],
    "notice-stop": [sent("n")],
    "walk-sync": [told("l", _walk)],
    "walk-site-change": [told("l", _site_change)],
    "correct": [told("m", lambda world: _correction(world) | {"withdraws": True})],
    "walk-photograph": [
        sent(
            "l",
            lambda w: {"id": str(UUID(int=13)), "item": str(w.ids["item_id"])},
            files={"file": "picture"},
        )
    ],
    "figure-jobs": [Body("o", method="GET", query="?of=rough_in")],
    "crew-day": [Body("l", method="GET", query=f"?day={DAY}")],
    "crew-day-pdf": [Body("l", method="GET", query=f"?day={DAY}")],
    "crew-day-ics": [Body("l", method="GET", query=f"?day={DAY}")],
    "today": [Body("o", method="GET", query="?find=Quillet&stage=rough-in")],
    "jobs": [Body("b", method="GET", query="?find=Quillet")],
}

API: dict[str, list[Body]] = {
    "api-jobs": [told("o", _job), Body("o", method="GET", query="?find=Lot&fields=id,name")],
    "api-job": [told("o", {"name": "Lot 15b"}, method="PATCH")],
    "api-permit": [told("o", {"what": "extended", "expires_on": "2026-12-01"})],
    "api-insulation": [told("b", {"kind": "batts", "vapour_barrier": False})],
    "api-milestones": [told("o", HOOKUP_GONE, ids=_done)],
    "api-trades": [told("b", {"trade": "insulation", "area": "bedroom"})],
    "api-revisions": [told("l", _house, ids=_done)],
    "api-site-changes": [told("m", _site_change)],
    "api-corrections": [told("m", lambda world: _correction(world) | {"withdraws": True})],
    "api-site-change": [told("o", {"accepted": True})],
    "api-trial": [told("l", {}, ids=_done)],
    "api-proposals": [told("l", {}, ids=_done)],
    "api-as-drawn": [told("m", _as_drawn)],
    "api-walk": [told("m", _walk)],
    "api-inspections": [told("o", {"kind": "final"})],
    "api-links": [told("o", {"for_whom": "Pat", "days": 30})],
    "api-place": [told("o", {"latitude": 53.5, "longitude": -113.5}, method="PUT")],
    "api-promises": [told("o", {"promised": "finish", "on": DAY})],
    "api-tasks": [told("o", {"name": "trench", "minutes": 240, "area": "bedroom"})],
    "api-acceptances": [told("o", {"basis": "waiver", "reference": "W-77"})],
    "api-crew": [told("o", lambda w: {"lead": w.shop.lead.username}, method="PATCH")],
    "api-work": [told("l", {"task": "rough-in/garage"})],
    "api-packs": [told("o", {"kind": "inspector", "paper": "a4"})],
    "api-link-gone": [told("o")],
    "api-cover-releases": [told("o", ids=_done)],
    "api-withdrawal": [told("o", WITHDRAW, ids=_done)],
    "api-cover-release-answer": [
        told("l", ANSWERED | {"inspect_again": False}),
        told("o", ANSWERED | {"inspect_again": True}),
    ],
    "api-inspection-events": [told("o", {"happening": "cancelled", "note": "rain"}, ids=_begun)],
    "api-inspection-answer": [told("o", _answers, ids=_begun)],
    "api-corrected": [told("l")],
    "api-observations": [
        told("m", {"outcome": "fix"}),
        told("m", {"outcome": "ok"}, ids=_finish_item),
    ],
    "api-photographs": [sent("l", files={"file": "picture"})],
    "api-plans": [told("o", {"first_day": "2026-03-17"})],
    "api-plan-told": [told("o")],
    "api-crew-day": [told("o", query=f"?day={DAY}"), Body("l", method="GET", query=f"?day={DAY}")],
    "api-absences": [
        told("l", lambda w: {"person": w.shop.member.username, "from_day": DAY, "to_day": DAY})
    ],
    "api-builders": [told("o", {"name": "Ashdale Homes"})],
    "api-authorities": [told("o", {"name": "Another office"})],
    "api-authority": [told("o", {"notice_days": 2}, method="PATCH")],
    "api-member": [told("o", {"role": "crew_lead"}, method="PATCH"), told("o", method="DELETE")],
    "api-invitations": [told("o", {"role": "crew_lead", "for_whom": "Robin"})],
    "api-invitation": [told("o", method="DELETE")],
    "api-amendments": [told("o", LIMIT | {"value": 210, "unit": "mm", "reason": "by-law 13"})],
    "api-changes": [Body("o", method="GET", query="?since=3&limit=5")],
    "api-notice-seen": [told("o")],
    "api-addresses": [told("o", {"channel": "email", "target": "second@studbay.example"})],
    "api-address": [told("o", method="DELETE")],
}

BODIES = PAGES | API

"""Calls that name what is another shop's, in the address or in the body, or what is nowhere."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import quote
from uuid import UUID

from tests.isolation.bodies import BODIES, DAY, Body, sent, told
from tests.isolation.calls import Call, path_of
from tests.isolation.world import World
from tests.matrix import addresses
from tests.stranger.rows import rows_of

TABLES = {
    "job_id": "jobs.job",
    "area_id": "jobs.area",
    "cover_release_id": "inspections.coverrelease",
    "observation_id": "inspections.observation",
    "inspection_id": "inspections.inspection",
    "pack_id": "inspections.pack",
    "site_change_id": "inspections.sitechange",
    "deficiency_id": "inspections.deficiency",
    "item_id": "inspections.item",
    "photograph_id": "inspections.photograph",
    "deficiency_photograph": "inspections.deficiencyphotograph",
    "link_id": "inspections.link",
    "notice_id": "notifications.notice",
    "authority_id": "jobs.authority",
    "plan_id": "jobs.plan",
    "crew_id": "jobs.crew",
    "absence_id": "jobs.absence",
    "membership_id": "jobs.membership",
    "invitation_id": "jobs.invitation",
    "delivery_id": "notifications.delivery",
    "filed": "notifications.delivery",
    "address_id": "notifications.address",
    "feed_id": "notifications.feed",
    "token_id": "jobs.apitoken",
    "session_id": "jobs.opensession",
}
"""Whose id each parameter of an address is."""
ONLY_IN_BODIES = ("jobs.builder", "jobs.person", "notifications.gateway")


@dataclass
class Named:
    """What a call names: of the stranger, or of nobody."""

    theirs: bool

    def __getitem__(self, table: str) -> str:
        """The id of a row of that table."""
        if self.theirs:
            return str(rows_of(table)[0]["id"])
        return str(UUID(int=0x7000_8000_0000_0000_0000_0001 + len(table)))

    def name(self) -> str:
        """How somebody signs in."""
        return rows_of("jobs.person")[1]["username"] if self.theirs else "qwxyq-lead"

    def code(self) -> str:
        """The code of an area that the tested shop has none of."""
        return rows_of("jobs.area")[-1]["code"] if self.theirs else "qwxyq-cellar"

    def job(self) -> str:
        """What a house is called."""
        return rows_of("jobs.job")[0]["name"] if self.theirs else "Qwxyq lane"

    def hidden(self, text: str) -> str:
        """A text without what was named."""
        for given in (self.name(), self.code(), self.job()):
            text = text.replace(given, "NAMED").replace(quote(given), "NAMED")
        for table in {*TABLES.values(), *ONLY_IN_BODIES}:
            identity = self[table]
            text = text.replace(identity, "NAMED").replace(UUID(identity).hex, "NAMED")
        return re.sub(r"[Cc]ontent-[Ll]ength': '\d+'", "", text)


Build = Callable[[Named, World], Body]


def foreign_calls(world: World, named: Named) -> Iterator[Call]:
    """Every address that takes an id with one that is not this shop's, read and written."""
    ids = {parameter: named[table] for parameter, table in TABLES.items()}
    with_theirs = replace(world, ids=world.ids | ids)
    for name, pattern in addresses():
        if "<uuid:" not in pattern:
            continue
        path = path_of(name, pattern, with_theirs, {})
        for caller in "olb":
            yield Call(name, caller, "GET", path)
        for body in BODIES.get(name, ()):
            yield Call(name, body.caller, body.method, path + body.query, body)
    patterns = dict(addresses())
    for name, build in IN_BODIES:
        body = build(named, world)
        more = body.ids(world) if body.ids else {}
        path = path_of(name, patterns[name], world, more) + body.query
        yield Call(name, body.caller, body.method, path, body)


def _inspection(world: World) -> dict[str, Any]:
    return {"inspection_id": world.ids["begun_inspection"]}


def _job(named: Named, world: World, **other: str) -> dict[str, Any]:
    kept = next(body for body in BODIES["api-jobs"] if body.data)
    return kept.made(world) | other


def _answer(_world: World, **more: Any) -> Body:
    return told("o", {"reference": "F-2", "answer": "accepted"} | more, ids=_inspection)


def _builder(named: Named) -> dict[str, Any]:
    return {"role": "builder", "builder": named["jobs.builder"]}


def _guest(named: Named) -> dict[str, Any]:
    return _builder(named) | {"for_whom": "somebody"}


def _picture(named: Named) -> Body:
    given = {"id": str(UUID(int=5)), "item": named["inspections.item"]}
    return sent("l", given, files={"file": "picture"})


def _suppose(what: str, who: str) -> Body:
    return sent("o", {"what": what, "who": who, "from_day": DAY})


def _rules(named: Named, world: World) -> Body:
    kept = BODIES["notice-office"][0].made(world)
    return sent("o", kept | {"owner": named["jobs.person"]})


def _by_gateway(named: Named) -> Body:
    given = {"channel": "message", "target": "5"}
    return sent("o", given | {"gateway": named["notifications.gateway"]})


def _walk(named: Named, world: World) -> dict[str, Any]:
    body = BODIES["api-walk"][0].made(world)
    body["ticks"][0]["item"] = named["inspections.item"]
    return body


def _as_drawn(named: Named, world: World) -> dict[str, Any]:
    body = BODIES["api-as-drawn"][0].made(world)
    body["items"][0]["item"] = named["inspections.item"]
    return body


def _person(named: Named, **more: Any) -> dict[str, Any]:
    return {"person": named["jobs.person"], "from_day": DAY, "to_day": DAY, **more}


def _elapsed(named: Named) -> dict[str, Any]:
    inspection = named["inspections.inspection"]
    return {
        "basis": "elapsed",
        "reference": "E-1",
        "declared_by": "Robin",
        "inspection": inspection,
    }


def _get(caller: str, query: str) -> Body:
    return Body(caller, method="GET", query=query)


IN_BODIES: list[tuple[str, Build]] = [
    ("api-jobs", lambda n, w: told("o", _job(n, w, builder=n["jobs.builder"]))),
    ("as-drawn", lambda n, _: sent("l", {"item": [f"{n['inspections.item']} 0123456789abcdef"]})),
    ("api-jobs", lambda n, w: told("o", _job(n, w, authority=n["jobs.authority"]))),
    ("api-jobs", lambda n, w: told("o", _job(n, w, crew_lead=n.name()))),
    ("api-jobs", lambda n, w: _get("o", f"?builder={n['jobs.builder']}")),
    ("api-jobs", lambda n, w: _get("o", f"?authority={n['jobs.authority']}")),
    ("api-jobs", lambda n, w: _get("o", f"?crew_lead={n.name()}")),
    ("api-jobs", lambda n, w: _get("o", f"?find={n.job()}")),
    ("api-job", lambda n, w: told("o", {"builder": n["jobs.builder"]}, method="PATCH")),
    ("api-job", lambda n, w: told("o", {"authority": n["jobs.authority"]}, method="PATCH")),
    ("api-job", lambda n, w: told("o", {"crew_lead": n.name()}, method="PATCH")),
    ("api-trades", lambda n, w: told("o", {"trade": "insulation", "area": n.code()})),
    ("api-inspections", lambda n, w: told("o", {"kind": "rough_in", "areas": [n.code()]})),
    ("api-inspection-answer", lambda n, w: _answer(w, answers={n.code(): "accepted"})),
    ("api-inspection-answer", lambda n, w: _answer(w, called=[{"area": n.code(), "what": "x"}])),
    ("api-inspection-answer", lambda n, w: _answer(w, lifted=[n["inspections.deficiency"]])),
    ("api-deficiencies", lambda n, w: _get("o", f"?area={n.code()}")),
    ("api-member", lambda n, w: told("o", _builder(n), method="PATCH")),
    ("api-invitations", lambda n, w: told("o", _guest(n))),
    ("api-absences", lambda n, w: told("o", {"person": n.name(), "from_day": DAY, "to_day": DAY})),
    ("api-crew", lambda n, w: told("o", {"lead": n.name()}, method="PATCH")),
    ("api-tasks", lambda n, w: told("o", {"name": "x", "minutes": 5, "area": n.code()})),
    ("api-acceptances", lambda n, w: told("o", _elapsed(n))),
    ("api-as-drawn", lambda n, w: told("m", _as_drawn(n, w))),
    ("api-walk", lambda n, w: told("l", _walk(n, w))),
    ("walk-sync", lambda n, w: told("l", _walk(n, w))),
    ("walk-photograph", lambda n, w: _picture(n)),
    ("ask", lambda n, w: sent("o", {"kind": "rough_in", "areas": [n["jobs.area"]]})),
    ("trade", lambda n, w: sent("o", {"trade": "insulation", "area": n["jobs.area"]})),
    ("job-new", lambda n, w: sent("o", _job(n, w, builder=n["jobs.builder"]))),
    ("job-new", lambda n, w: sent("o", _job(n, w, authority=n["jobs.authority"]))),
    ("job-edit", lambda n, w: sent("o", _job(n, w, crew_lead=n["jobs.person"]))),
    ("invite", lambda n, w: sent("o", _guest(n))),
    ("member", lambda n, w: sent("o", _builder(n))),
    ("crew-open", lambda n, w: sent("o", {"name": "Crew X", "person": n["jobs.person"]})),
    ("crew-skill", lambda n, w: sent("o", _person(n, skill="licensed"))),
    ("crew-place", lambda n, w: sent("o", _person(n))),
    ("absence", lambda n, w: sent("o", _person(n))),
    ("plan-ask", lambda n, w: _suppose("away", n["jobs.person"])),
    ("plan-ask", lambda n, w: _suppose("more", n["jobs.crew"])),
    ("drive-times", lambda n, w: sent("o", {"table": f"yard,{n.job()},12"})),
    ("notice-office", lambda n, w: _rules(n, w)),
    ("address-new", lambda n, w: _by_gateway(n)),
    ("feed-new", lambda n, w: sent("o", {"job": n["jobs.job"]})),
    ("today", lambda n, w: _get("o", f"?builder={n['jobs.builder']}")),
    ("today", lambda n, w: _get("o", f"?authority={n['jobs.authority']}")),
    ("today", lambda n, w: _get("o", f"?crew_lead={n['jobs.person']}")),
    ("today", lambda n, w: _get("o", f"?find={n.job()}")),
    ("jobs", lambda n, w: _get("o", f"?find={n.job()}")),
    ("figure-jobs", lambda n, w: _get("o", f"?of={n.job()}")),
]
"""Each place in a body or a query that takes an id, a code or a name."""

"""Every call that is compared: each address read by four readers, and written where it takes that.

An address of the URL configuration that is named nowhere here is read all the same; one whose
parameters nobody has an id for, and one that no call gets through, fail the comparison.
"""

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile

from tests.building.models import drawing
from tests.inspections.test_photographs import picture
from tests.isolation.bodies import BODIES, Body
from tests.isolation.world import World
from tests.matrix import addresses, filled

TABLE = tomllib.loads((Path(__file__).parents[1] / "access.toml").read_text("utf-8"))
READ = TABLE["access"]
"""Which addresses are read at all: of any other it is enough to see one refusal."""
READERS = "olbn"
"""Office, crew lead, builder, and whoever has a link."""
TOKENS = {
    "mail-kept": "mail_token",
    "notice-seen": "seen",
    "notice-stop": "stop",
    "paper": "paper",
}
SECRETS = {"join": "join", "way-back": "way_back"}


@dataclass(frozen=True)
class Call:
    """One call as it is sent."""

    name: str
    caller: str
    method: str
    path: str
    body: Body | None = None

    def __str__(self) -> str:
        return f"{self.name}: {self.method} {self.path} as {self.caller}"

    def sent(self, world: World) -> dict[str, Any]:
        """What goes with it, as Django's client takes it."""
        if self.body is None or self.body.data is None:
            return {"data": b"", "content_type": "application/octet-stream"}
        data = self.body.made(world)
        if self.body.json:
            return {"data": json.dumps(data, default=str), "content_type": "application/json"}
        files = {name: _file(kind) for name, kind in self.body.files.items()}
        return {"data": {**data, **files}}


def _file(kind: str) -> SimpleUploadedFile:
    if kind == "picture":
        return SimpleUploadedFile("a.jpg", picture(), "image/jpeg")
    with TemporaryDirectory() as folder:
        return SimpleUploadedFile("plan.dxf", drawing(Path(folder) / "plan.dxf"))


def calls(world: World) -> Iterator[Call]:
    """Every one, in the order of the addresses."""
    for name, pattern in addresses():
        usual = path_of(name, pattern, world, {})
        others = dict.fromkeys(path_of(name, pattern, world, more) for more in world.others)
        for caller in READERS if f"{name} GET" in READ else "o":
            yield Call(name, caller, "GET", usual)
        for path in others:
            if path != usual and f"{name} GET" in READ:
                for caller in READERS if path.startswith("/l/") else "ob":
                    yield Call(name, caller, "GET", path)
        for body in BODIES.get(name, ()):
            more = body.ids(world) if body.ids else {}
            path = path_of(name, pattern, world, more) + body.query
            yield Call(name, body.caller, body.method, path, body)


def path_of(name: str, pattern: str, world: World, more: dict[str, Any]) -> str:
    """The address with ids of this shop; KeyError for a parameter that there is none for."""
    own = world.ids | more
    if name == "deficiency-photograph-file":
        own["photograph_id"] = world.ids["deficiency_photograph"]
    if name == "message":
        own["delivery_id"] = world.ids["filed"]
    if name in SECRETS:
        own["secret"] = world.ids[SECRETS[name]]
    if name in TOKENS:
        own["token"] = world.ids[TOKENS[name]]
    if name == "account_reset_password_from_key":
        own["key"] = world.ids["reset_key"]
    if "/sheets/" in pattern and own["which"] == "load":
        own["which"] = "corrections"
    if "/power/" in pattern and own["which"] not in ("load", "panel", "hookup"):
        own["which"] = "load"
    return filled(pattern, own)

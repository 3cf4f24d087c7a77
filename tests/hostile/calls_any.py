"""Calls of every address there is: made from the URL configuration and from what is published."""

import re
import tomllib
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlencode

import yaml

from tests.hostile.fields import FIELDS, KINDS
from tests.hostile.scene import Call, Made, Scene
from tests.hostile.world import OWN, OWNED, picture
from tests.matrix import addresses

ROOT = Path(__file__).resolve().parents[2]
SCHEMA, ACCESS = ROOT / "docs" / "openapi.yaml", ROOT / "tests" / "access.toml"
PARAMETER = re.compile(r"<(\w+):(\w+)>")
CHOICES = {
    "name": ("cec-2021", "nec-2023", "load", "no-code"),
    "rule": ("box-fill", "no-rule"),
    "which": ("load", "panel", "hookup", "corrections", "pulling", "no-sheet"),
    "form": ("json", "xlsx", "zip", "exe"),
    "key": ("inspections", "open", "no-figure"),
}
SECRETS = {
    "link": ("cover", "gone", "placard", "accepted", "hooked up"),
    "link-acknowledge": ("cover", "gone", "placard"),
    "link-appendix": ("cover", "gone", "placard"),
    "join": ("join",),
    "mail-kept": ("seen", "stop"),
    "paper": ("paper",),
    "notice-seen": ("seen",),
    "notice-stop": ("stop", "stop unknown"),
    "calendar": ("feed",),
}
SLOW = {"api-schema", "api-docs", "draw-model", "api-proposals", "draw-finish", "metrics"}
"""Addresses whose answers take long and rest on nothing of a sequence, or that are fuzzed apart."""
NOT_HERE = {
    "account_login",
    "account_logout",
    "account_reset_password_from_key",
    "language",
    "mfa_authenticate",
    "mfa_login_webauthn",
    "session-end",
    "way-back",
    "way-back-new",
}
"""What ends a session of a sequence, or begins one: tests/pages/ tries those."""
QUERIES = ("page", "find", "day", "storey", "circuit", "of", "limit", "cursor", "fields", "since")
FACES = (
    "/jobs/{job}/",
    "/jobs/{job}/record/",
    "/jobs/{job}/notices/",
    "/walk/{job}/data",
    "/api/jobs/{job}",
    "/api/jobs/{job}/moves",
    "/api/jobs/{job}/items",
    "/api/jobs/{job}/inspections",
    "/api/jobs/{job}/earliest-inspection",
    "/areas/{area}/timeline/",
    "/api/areas/{area}/timeline",
    "/today/",
    "/figures/",
    "/",
    "/crews/day/",
    "/l/{cover}",
    "/l/{placard}",
    "/calendars/{feed}.ics",
    "/paper/{paper}/",
    "/jobs/{job}/checklist.pdf",
    "/jobs/{job}/site-list.pdf",
    "/jobs/{job}/power/load/",
    "/jobs/{job}/power/hookup.json",
)
"""What people look at, on which every stored value shows."""


@cache
def every_address(method: str) -> tuple[tuple[str, str], ...]:
    """Name and pattern of each address that takes the method and that a sequence may call."""
    table = tomllib.loads(ACCESS.read_text("utf-8"))["access"]
    taken = {call.split()[0] for call in table if call.endswith(f" {method}")} - SLOW - NOT_HERE
    return tuple((name, pattern) for name, pattern in addresses() if name in taken)


@cache
def operations() -> tuple[tuple[str, str, dict[str, Any]], ...]:
    """Method, path and body of every call of the API that writes, as it is published."""
    published = yaml.load(SCHEMA.read_text("utf-8"), yaml.CSafeLoader)
    slow = ("/proposals", "/trial", "/photographs", "/addresses")
    found = []
    for path, methods in published["paths"].items():
        for method, operation in methods.items():
            if method == "get" or path.endswith(slow):
                continue
            body = operation.get("requestBody", {}).get("content", {})
            shape = body.get("application/json", {}).get("schema", {})
            found.append((method.upper(), path, _resolved(shape, published)))
    return tuple(found)


def _resolved(shape: dict[str, Any], published: dict[str, Any], depth: int = 0) -> dict[str, Any]:
    """A shape with what it refers to in place."""
    if depth > 6:
        return {}
    if "$ref" in shape:
        name = shape["$ref"].rpartition("/")[2]
        return _resolved(published["components"]["schemas"][name], published, depth + 1)
    found = dict(shape)
    if "properties" in shape:
        found["properties"] = {
            name: _resolved(each, published, depth + 1)
            for name, each in shape["properties"].items()
        }
    for of in ("items", "additionalProperties"):
        if isinstance(shape.get(of), dict):
            found[of] = _resolved(shape[of], published, depth + 1)
    for of in ("oneOf", "anyOf", "allOf"):
        if of in shape:
            found[of] = [_resolved(each, published, depth + 1) for each in shape[of]]
    return found


def look(scene: Scene) -> Call:
    """Something that people look at, as it is now."""
    return _face(scene, scene.dice.among(FACES), scene.dice.among(("office", "lead", "builder")))


def looks(scene: Scene) -> list[Call]:
    """Every one of those, as the office sees them."""
    return [_face(scene, face, "office") for face in FACES]


def _face(scene: Scene, face: str, who: str) -> Call:
    codes = [str(area.id) for area in scene.areas()]
    area = scene.dice.among(codes) if codes else scene.id("area_id")
    secrets = scene.side.secrets
    cover = secrets.get(scene.state, secrets["cover"])
    ids = {"job": scene.job.id, "area": area, "cover": cover}
    path = face.format(**{**secrets, **ids})
    return Call("nobody" if face.startswith(("/l/", "/cal", "/paper")) else who, "GET", path)


def read(scene: Scene) -> Call:
    """A GET of any address."""
    dice = scene.dice
    name, pattern = dice.among(every_address("GET"))
    path = _filled(scene, name, pattern)
    if dice.odd(20):
        asked = {dice.among(QUERIES): dice.among((dice.text(odd=100), dice.day(odd=100)))}
        path += "?" + urlencode(asked, errors="surrogatepass")
    who = scene.who() if dice.odd(50) else "office"
    headers = {"HX-Request": "true"} if dice.often(15) else {}
    return Call(who, "GET", path, headers=headers)


def send(scene: Scene) -> Call:
    """A form of any page, with fields of whatever names and values."""
    dice = scene.dice
    pages = [each for each in every_address("POST") if not each[1].startswith("/api/")]
    name, pattern = dice.among(pages)
    path, files = _filled(scene, name, pattern), None
    given = {field: value(scene, field, kind) for field, kind in FIELDS.get(name, ())}
    for field in [field for field in given if dice.odd(15)]:
        del given[field]
    if dice.odd(10):
        given[dice.among(tuple(KINDS))] = dice.text(odd=100)
    if name in ("photograph", "deficiency-photograph"):
        files = {"photograph": picture()}
    if name.startswith(("draw-", "walk-")) and name != "walk-photograph":
        return scene.json(scene.who(), "POST", path, given)
    return scene.form(scene.who(), path, given, files)


def write(scene: Scene) -> Call:
    """A call of the API that writes, with a body of the shape that is published."""
    dice = scene.dice
    method, path, shape = dice.among(operations())
    for parameter in re.findall(r"{(\w+)}", path):
        path = path.replace(f"{{{parameter}}}", _quoted(_value_of(scene, parameter)))
    headers = {}
    if dice.odd(10):
        headers["Idempotency-Key"] = dice.among(("a", "a", "b", "", "x" * 201, "é"))
    if dice.odd(10):
        headers["If-Match"] = dice.among(("*", '"0"', "x", ""))
    return scene.json(scene.who(), method, path, _shaped(scene, shape, "body"), headers)


def _shaped(scene: Scene, shape: dict[str, Any], name: str) -> Any:
    """A value of a published shape, or one that is not."""
    dice = scene.dice
    for of in ("oneOf", "anyOf", "allOf"):
        if shape.get(of):
            return _shaped(scene, dice.among(shape[of]), name)
    if dice.odd(8):
        return dice.among((dice.text(odd=100), dice.measure(odd=100), dice.moment(odd=100)))
    if "enum" in shape:
        return dice.among(tuple(shape["enum"]))
    kind = shape.get("type")
    kinds = kind if isinstance(kind, list) else [kind]
    if "null" in kinds and dice.often(20):
        return None
    if "object" in kinds and "properties" in shape:
        return _object(scene, shape)
    if "array" in kinds:
        return [_shaped(scene, shape.get("items", {}), name) for _ in range(dice.whole(0, 2))]
    return _plain(scene, shape, kinds, name)


def _object(scene: Scene, shape: dict[str, Any]) -> dict[str, Any]:
    must = shape.get("required", [])
    return {
        name: _shaped(scene, inner, name)
        for name, inner in shape["properties"].items()
        if name in must or scene.dice.often(50)
    }


def _plain(scene: Scene, shape: dict[str, Any], kinds: list[Any], name: str) -> Any:
    dice, written = scene.dice, shape.get("format")
    if written == "uuid":
        parameter = f"{name}_id"
        return scene.id(parameter) if parameter in OWNED else dice.new_id()
    if written == "date-time":
        return dice.moment()
    if written == "date":
        return dice.day(ahead=60)
    if "integer" in kinds:
        return dice.number(0, 40)
    if "number" in kinds:
        return dice.measure()
    if "boolean" in kinds:
        return dice.often(50)
    return value(scene, name, KINDS.get(name, "text"))


def _filled(scene: Scene, name: str, pattern: str) -> str:
    def one(found: re.Match[str]) -> str:
        kind, parameter = found.groups()
        if parameter in ("secret", "token"):
            return _quoted(_secret(scene, name))
        return _quoted(_value_of(scene, parameter)) if kind else ""

    if name == "deficiency-photograph-file":
        pattern = pattern.replace("photograph_id", "deficiency_photograph_id")
    return PARAMETER.sub(one, pattern)


def _quoted(text: str) -> str:
    return quote(text, safe="", errors="surrogatepass")


def _value_of(scene: Scene, parameter: str) -> str:
    if parameter.endswith("_id"):
        return scene.id(parameter)
    return str(scene.dice.text()) if scene.dice.odd(15) else scene.dice.among(CHOICES[parameter])


def _secret(scene: Scene, name: str) -> str:
    dice = scene.dice
    if dice.odd(15):
        return str(dice.among(("x", "a:b", "long:ago", "%", dice.text(odd=100))))
    side = scene.world.theirs if dice.odd(5) else scene.side
    names = SECRETS[name] if not dice.odd(10) else tuple(side.secrets)
    return side.secrets[dice.among(names)]


def value(scene: Scene, name: str, kind: str) -> Any:
    """A value for a field of that kind."""
    dice = scene.dice
    if kind.endswith("_id"):
        return scene.id(kind)
    makes = {
        "day": lambda: dice.day(ahead=60),
        "moment": dice.moment,
        "number": lambda: dice.number(0, 40),
        "measure": dice.measure,
        "code": scene.code,
        "username": lambda: dice.among((scene.side.lead.username, "nobody")),
        "fingerprint": lambda: scene.fingerprint(scene.item()),
        "person": lambda: str(scene.side.shopful.member.id),
        "text": lambda: dice.text(fallback=f"{OWN} {name}"[:30]),
    }
    if kind in makes:
        return makes[kind]()
    return dice.text(odd=100) if dice.odd(15) else dice.among(kind.split("|"))


CALLS: list[tuple[int, Made]] = [(6, look), (6, read), (6, send), (8, write)]

"""What the code never does, so that no input can make it: read off the source itself.

Each check names the requirement of OWASP ASVS 5.0.0 that rests on it.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from config.downloads import download

ROOT = Path(__file__).resolve().parents[1]
FLOORS = ("api", "audit", "config", "inspections", "jobs", "notifications", "pages")
OWN_SCRIPTS = sorted((ROOT / "static" / "js").rglob("*.js"))
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
EXPRESSIONS = {"compile", "match", "fullmatch", "search", "sub", "split", "findall", "finditer"}
OWN_SHAPES = {
    "config/redact.py": "marks that stand in the same file",
    "config/messages/lengths.py": "numbers and units that the same file lists",
    "inspections/checker/workbook/values.py": "a number as the same file writes it",
}
"""Files whose expressions are put together of constants of ours."""
ADDRESS = re.compile(r"""(?:href|src|action)=["'][^"']*\{\{\s*([^}]+?)\s*\}\}""")
OWN_ADDRESSES = {
    "request.path",  # the address that was asked for, escaped
    "find|urlencode",
    "query",  # `urlencode` of a form that was read
    "jobs.previous_page_number",
    "jobs.next_page_number",
    "page.previous_page_number",
    "page.next_page_number",
    "before|date:'Y-m-d'",
    "after|date:'Y-m-d'",
    "next",  # the address that was asked for, in a query, by `urlencode`
    "to",  # the address that was asked for
    "action_url",  # by `reverse`, of the library that keeps accounts
    "script_url",
    "swagger_ui_css",
    "swagger_ui_bundle",
    "swagger_ui_standalone",
    "square",  # `data:` of a picture that segno drew
    "line.seen",
    "each.address",  # a query, by `urlencode`
    "each.id|urlencode",
    "section.area.id",
    "next.href",  # by `reverse`, or a place on the page of ours
    "line.item|line_address",  # by `reverse`
    "back",
    "stop",
    "site",
}
"""What may stand in an address of a page or a message beside `{% url %}` and `{% static %}`."""


def sources() -> Iterator[tuple[str, ast.Module]]:
    """Every file of the site, parsed."""
    for floor in FLOORS:
        for path in sorted((ROOT / floor).rglob("*.py")):
            if path.parent.name == "migrations":
                continue
            yield str(path.relative_to(ROOT)), ast.parse(path.read_text("utf-8"))


def calls(tree: ast.Module) -> Iterator[tuple[str, ast.Call]]:
    """Every call with the name that is called, and of what."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func), node


def test_every_expression_is_a_constant_or_escaped() -> None:
    """1.2.9: nothing that somebody sent is read as a regular expression."""
    found = []
    for path, tree in sources():
        for name, call in calls(tree):
            of, _, what = name.rpartition(".")
            if of != "re" or what not in EXPRESSIONS or not call.args:
                continue
            if isinstance(call.args[0], ast.Constant) or "re.escape" in ast.unparse(call):
                continue
            if path not in OWN_SHAPES:
                found.append(f"{path}:{call.lineno}")
    assert found == []


def test_templates_are_files() -> None:
    """1.3.7: no template is made of a text."""
    names = {"Template", "from_string", "django.template.Template", "Engine.from_string"}
    made = [
        f"{path}:{call.lineno}"
        for path, tree in sources()
        for name, call in calls(tree)
        if name in names or name.endswith(".from_string")
    ]
    assert made == []


def test_formats_are_constants() -> None:
    """1.3.10: what is filled is a phrase of ours, by its literal or out of a table of them."""
    loose = []
    for path, tree in sources():
        for name, call in calls(tree):
            if not name.endswith((".format", ".format_map")):
                continue
            of = call.func.value if isinstance(call.func, ast.Attribute) else call.func
            table = isinstance(of, ast.Subscript) and ast.unparse(of.value).isupper()
            constant = isinstance(of, ast.Constant) or ast.unparse(of).isupper()
            formats = ast.unparse(of) in ("super()", "self.tick")
            if not (table or constant or formats):
                loose.append(f"{path}:{call.lineno} {ast.unparse(of)}")
    assert loose == []


def test_nothing_is_unpickled(settings) -> None:
    """1.5.2: no reader that makes objects of what it is given."""
    banned = ("pickle.load", "marshal.load", "shelve.open", "yaml.load", "yaml.unsafe_load")
    used = [
        f"{path}:{call.lineno}"
        for path, tree in sources()
        for name, call in calls(tree)
        if name.startswith(banned)
    ]
    assert used == []
    from config.celery import app

    assert set(app.conf.accept_content) <= {"json"}
    assert settings.SESSION_SERIALIZER.endswith("JSONSerializer")


@pytest.mark.parametrize("path", OWN_SCRIPTS, ids=lambda path: path.name)
def test_no_script_makes_code_or_markup_of_text(path: Path) -> None:
    """1.3.2 and 3.2.2: text goes into pages by `textContent`, and is never run."""
    text = path.read_text("utf-8")
    banned = r"\b(innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|new Function)"
    assert re.findall(banned, text) == []
    assert not re.search(r"set(?:Timeout|Interval)\([\"'`]", text)


@pytest.mark.parametrize("path", OWN_SCRIPTS, ids=lambda path: path.name)
def test_no_script_hears_other_windows(path: Path) -> None:
    """3.5.5: what another window says is not listened to; a worker and a channel are ours."""
    text = path.read_text("utf-8")
    hears = r"(?:window|globalThis|self)\.(?:onmessage|addEventListener\(\"message\")"
    assert not re.search(hears, text)
    assert not re.search(r"(?:window|globalThis)\.(?:opener|parent|frames)\b|\.contentWindow", text)


@pytest.mark.parametrize("path", OWN_SCRIPTS, ids=lambda path: path.name)
def test_no_script_reaches_a_prototype(path: Path) -> None:
    """15.3.6: no merging by names that were sent into what all objects share."""
    text = path.read_text("utf-8")
    assert not re.search(r"__proto__|\.prototype\b|Object\.setPrototypeOf", text)
    assert not re.search(r"for \((?:const|let|var) \w+ in ", text)
    assert not re.search(r"[^=!<>]==[^=]|!=[^=]", re.sub(r"== null|!= null", "", text))


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_puts_what_somebody_typed_into_an_address(path: Path) -> None:
    """1.2.2: addresses are made by `reverse`; so none begins with a scheme of somebody's choice."""
    text = path.read_text("utf-8")
    made = set(re.findall(r"\{% (?:url|static) [^%]* as (\w+) %\}", text))
    assert set(ADDRESS.findall(text)) - OWN_ADDRESSES - made == set()


PASSWORDS = re.compile(r"""<input\b[^>]*\bname=["'](?:old|new|again_)?password\d?["'][^>]*>""")


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_password_fields_are_masked_and_take_pasting(path: Path) -> None:
    """6.2.6 and 6.2.7: of type password, told apart for managers, and nothing forbidden."""
    text = path.read_text("utf-8")
    for field in PASSWORDS.findall(text):
        assert 'type="password"' in field, field
        assert re.search(r'autocomplete="(?:current|new)-password', field), field
        assert int((re.findall(r'maxlength="(\d+)"', field) or ["200"])[0]) >= 64, field
    assert "onpaste" not in text


def test_no_script_forbids_pasting() -> None:
    """6.2.7 again."""
    assert not [path for path in OWN_SCRIPTS if "paste" in path.read_text("utf-8")]


def test_every_download_has_a_name_that_breaks_no_header() -> None:
    """5.4.1 and 5.4.2: one place writes that header, as RFC 6266 has it."""
    header = "Content-Disposition"
    wrote = [path for path, _ in sources() if header in (ROOT / path).read_text("utf-8")]
    assert wrote == ["config/downloads.py"]
    told = download(b"", 'a"; x\r\nSet-Cookie: b=c\u00e9.pdf').headers[header]
    assert told.isascii()
    assert "\n" not in told
    assert told.startswith("inline; filename*=utf-8''a%22%3B%20x")


CRYPTOGRAPHY = {
    "cryptography",
    "fido2",
    "hashlib",
    "hmac",
    "pyotp",
    "secrets",
    "ssl",
    "standardwebhooks",
    "django.core.signing",
    "django.utils.crypto",
}
"""What computes with keys, digests or chance that nobody may guess."""
WEAK = ("md5", "sha1", "new", "blake2s")
"""Calls of `hashlib` that are not made: SHA-256 is what everything here rests on."""
CHANCE = {"jobs/planning/improve.py", "jobs/planning/serial.py", "notifications/services/outbox.py"}
"""Files that spread work by chance which anybody may guess."""


def modules(tree: ast.Module) -> set[str]:
    """Every module that a file imports, and what it imports from one."""
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{name.name}" for name in node.names)}
    return found


def of(known: set[str], found: set[str]) -> bool:
    """Whether one of these, or something of it, is among what was found."""
    return any(each == one or each.startswith(f"{one}.") for each in found for one in known)


def test_cryptography_is_where_the_inventory_says() -> None:
    """11.1.2, 11.2.1, 11.4.1: each file that uses any stands in docs/security.md."""
    text = (ROOT / "docs/security.md").read_text("utf-8")
    told = set(re.findall(r"`([\w/]+\.py)`", text.partition("## Keys")[2].partition("\n## ")[0]))
    used = {path for path, tree in sources() if of(CRYPTOGRAPHY, modules(tree))}
    assert sorted(used - told) == []
    weak = [
        f"{path}:{call.lineno}"
        for path, tree in sources()
        for name, call in calls(tree)
        if name.startswith("hashlib.") and name.partition(".")[2] in WEAK
    ]
    assert weak == []


def test_chance_that_must_not_be_guessed_comes_from_secrets() -> None:
    """11.5.1: `random` spreads work, and makes nothing that opens anything."""
    used = {path for path, tree in sources() if of({"random"}, modules(tree))}
    assert used <= CHANCE

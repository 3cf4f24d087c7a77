"""What `make lint` asks of what others wrote and of what we commit: `python -m tests.dependencies`.

Every requirement is pinned and installed as pinned, under a licence that lets a shop run it; no
secret is among the files.
"""

import json
import re
import subprocess
import sys
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
FILES = (
    "requirements.txt",
    "requirements-models.txt",
    "requirements-traces.txt",
    "requirements-dev.txt",
)
LOCK = "package-lock.json"
BY_NPM = ("tests/js", "tests/api/typescript")
"""Folders whose package.json says what npm puts there."""
PIN = re.compile(r"^([A-Za-z0-9._-]+)==([A-Za-z0-9.+!]+)$")
LICENCES = re.compile(
    r"apache|bsd|mit|isc|mozilla|mpl|psf|python-2.0|python software|lgpl|"
    r"lesser|zlib|unlicense|hpnd|"
    r"public domain|cc0|0bsd|ofl|blueoak|postgresql|dual license|eclipse|epl|zpl",
    re.IGNORECASE,
)
LOOKED_UP = {"axe-playwright-python": "MIT"}
"""Licences read by hand where a package's metadata say nothing."""
RUN_ALONE = {"djlint": "GPL-3.0-or-later"}
"""Commands that only check our files on a developer's machine: no code of ours imports them, no
image holds them, and what they print is not theirs.
"""
SECRETS = {
    "a private key": re.compile(r"-----BEGIN (?:RSA |EC |OPENSSH |DSA )?PRIVATE KEY-----"),
    "a cloud key": re.compile(r"\bAKIA[0-9A-Z]{16}\b"),
    "a token": re.compile(r"\b(?:ghp|gho|glpat|xox[bp])[-_][A-Za-z0-9_-]{20,}\b"),
    "a password in an address": re.compile(
        r"\w+://[^/\s:@{$]+:(?!password|PASSWORD|long-secret)[^/\s@{$]{6,}@"
    ),
}
PLAIN = (".py", ".toml", ".md", ".yml", ".yaml", ".json", ".html", ".js", ".txt", "Makefile")


def main() -> int:
    """Print every fault; 1 when there is one."""
    faults = [*_pins(), *_secrets()]
    for place in BY_NPM:
        faults += _scripts(place)
    for fault in faults:
        print(fault)
    if not faults:
        print("every requirement is pinned and may be used; no secret is committed")
    return int(bool(faults))


def _pins() -> list[str]:
    faults = []
    for file in FILES:
        for number, line in enumerate((ROOT / file).read_text().splitlines(), 1):
            said = line.partition("#")[0].strip()
            if not said or said.startswith("-r "):
                continue
            pin = PIN.match(said)
            if not pin:
                faults.append(f"{file}:{number}: {said} is not pinned by ==")
            else:
                faults += [f"{file}:{number}: {each}" for each in _installed(*pin.groups())]
    return faults


def _installed(name: str, version: str) -> list[str]:
    try:
        found = distribution(name)
    except PackageNotFoundError:
        return [f"{name} is not installed"]
    faults = []
    if found.version != version:
        faults.append(f"{name} {found.version} is installed, not {version}")
    about = found.metadata
    said = " ".join(
        [
            *(each for each in about.get_all("License-Expression") or ()),
            *(each[:300] for each in about.get_all("License") or ()),
            *(each for each in about.get_all("Classifier") or () if each.startswith("License")),
            *(each for each in about.get_all("License-File") or ()),
        ]
    )
    if not LICENCES.search(said) and name not in LOOKED_UP.keys() | RUN_ALONE.keys():
        faults.append(f"{name}: its licence is not known to be one that may be used: {said[:80]!r}")
    return faults


def _scripts(place: str) -> list[str]:
    """What is wrong with the packages that npm puts into one of our folders."""
    folder = ROOT / place
    wanted = json.loads((folder / "package.json").read_text("utf-8"))["devDependencies"]
    faults = [
        f"{place}/package.json: {name} is not pinned"
        for name, version in wanted.items()
        if not re.fullmatch(r"[0-9.]+", version)
    ]
    for name, about in json.loads((folder / LOCK).read_text("utf-8"))["packages"].items():
        if not name:
            continue
        if "://" in json.dumps(about) or not about.get("integrity"):
            faults.append(f"{place}/{LOCK}: {name} names an address, or has no digest")
        if not LICENCES.search(about.get("license", "")):
            faults.append(f"{place}/{LOCK}: {name}: its licence is not known to be one to use")
    return faults


def _secrets() -> list[str]:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
    ).stdout.decode()
    faults = []
    for name in filter(None, listed.split("\0")):
        path = ROOT / name
        if not name.endswith(PLAIN) or not path.is_file() or name.endswith("dependencies.py"):
            continue
        text = path.read_text("utf-8", errors="replace")
        faults += [f"{name}: holds {what}" for what, sign in SECRETS.items() if sign.search(text)]
    return faults


if __name__ == "__main__":
    sys.exit(main())

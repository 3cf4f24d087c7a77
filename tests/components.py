"""The inventory of components, in CycloneDX: `python -m tests.components` writes it.

With `--check`, as `make lint` calls it, it says what differs from what is pinned. Every library
comes from the package index that pip is told of, at the version that is pinned, and what scripts of
others are served stands in `static/vendor` with its licence.
"""

import json
import re
import sys
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
OUT = ROOT / "docs" / "components.json"
SCOPES = {
    "requirements.txt": "required",
    "requirements-models.txt": "optional",
    "requirements-traces.txt": "optional",
    "requirements-dev.txt": "excluded",
}
"""What is pinned where, as CycloneDX calls its part in what runs."""
PIN = re.compile(r"^([A-Za-z0-9._-]+)(?:\[[\w,-]+\])?==([A-Za-z0-9.+!]+)")
VENDORED = re.compile(r"^(.+)-(\d+(?:\.\d+)+)(?:\.min)?\.js$")


def licence(name: str) -> str:
    """What a package says that it may be used under, in short."""
    try:
        told = distribution(name).metadata
    except PackageNotFoundError:
        return ""
    by_class = [each for each in told.get_all("Classifier") or () if each.startswith("License ::")]
    for said in told.get_all("License-Expression") or ():
        return str(said)
    if by_class:
        return str(by_class[0].rpartition(":: ")[2])
    return "".join(told.get_all("License") or ()).partition("\n")[0][:60]


def components() -> list[dict[str, Any]]:
    """Everything of others that runs, is optional, or tests."""
    found: dict[str, dict[str, Any]] = {}
    for file, scope in SCOPES.items():
        for line in (ROOT / file).read_text("utf-8").splitlines():
            if not (pin := PIN.match(line.strip())):
                continue
            name, version = pin.groups()
            one = {"type": "library", "name": name, "version": version, "scope": scope}
            one |= {"purl": f"pkg:pypi/{name.lower().replace('_', '-')}@{version}"}
            if told := licence(name):
                one["licenses"] = [{"license": {"name": told}}]
            found.setdefault(name.lower(), one)
    for path in sorted((ROOT / "static" / "vendor").glob("*/*.js")):
        if made := VENDORED.match(path.name):
            name, version = made.groups()
            one = {"type": "library", "name": name, "version": version, "scope": "required"}
            found[f"js {name}"] = one | {"purl": f"pkg:npm/{path.parent.name}@{version}"}
    return sorted(found.values(), key=lambda one: one["purl"])


def inventory() -> str:
    """The whole as a document of CycloneDX 1.6."""
    told = {
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {"component": {"type": "application", "name": "studbay"}},
        "components": components(),
    }
    return json.dumps(told, indent=1, ensure_ascii=False) + "\n"


def main() -> int:
    """Write it, or say that it is not what is pinned."""
    if "--check" not in sys.argv:
        OUT.write_text(inventory(), "utf-8")
        return 0
    kept = json.loads(OUT.read_text("utf-8")) if OUT.exists() else {"components": []}
    want = {one["purl"] for one in components()}
    have = {one["purl"] for one in kept["components"]}
    for purl in sorted(want ^ have):
        print(f"docs/components.json: {purl} is {'missing' if purl in want else 'left over'}")
    if want != have:
        print("write it anew: .venv/bin/python -m tests.components")
        return 1
    print(f"{len(want)} components, each as pinned")
    return 0


if __name__ == "__main__":
    sys.exit(main())

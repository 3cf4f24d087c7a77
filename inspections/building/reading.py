"""Building models read in a process of its own, so that a broken one harms nothing."""

import json
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from config.child_process import CameToNothing, TookTooLong, ask_apart

FORMS = (".ifc", ".dxf")
MOST_BYTES = 25_000_000
SECONDS = 90
MOST_UNREAD = 500


class ModelUnreadable(Exception):
    """A model that cannot be read; the text names the fault and the remedy."""


@dataclass(frozen=True, slots=True)
class ModelRead:
    """What became of a building model."""

    house: dict[str, Any]
    """A house file's values, for somebody to finish."""
    unread: list[str]
    """What could not be read, by element."""
    areas: list[tuple[str, float, float | None]] = field(default_factory=list)
    """Each room's name, its floor area in m² as drawn, and as the file itself says."""
    lines: list[list[float]] = field(default_factory=list)
    """Lines to lay beneath the drawing: x and y of both ends, mm east and north."""


def read_model(name: str, content: bytes) -> ModelRead:
    """A house from an IFC or DXF file, by the ending of its name. Raises ModelUnreadable."""
    form = Path(name).suffix.lower()
    if form not in FORMS:
        raise ModelUnreadable(f"{name}: is no building model; send an .ifc or a .dxf file")
    refuse_too_large(name, len(content))
    _looks_like(form, name, content)
    with TemporaryDirectory(prefix="studbay-model-") as folder:
        path = Path(folder) / f"model{form}"
        path.write_bytes(content)
        made = _ask(form[1:], path, Path(name).stem or "House")
    if not made["house"]["rooms"]:
        told = "; ".join(made["unread"][:3]) or "it has none"
        raise ModelUnreadable(f"{name}: no room could be read: {told}")
    unread = made["unread"]
    if len(unread) > MOST_UNREAD:
        more = f"and {len(unread) - MOST_UNREAD:,} more"
        unread = [*unread[:MOST_UNREAD], more]
    areas = []
    for said, drawn, stated in made["areas"]:
        areas.append((said, drawn, stated))
    return ModelRead(made["house"], unread, areas, made["lines"])


def refuse_too_large(name: str, size: int) -> None:
    """Refuse a model by its size, before it is read. Raises ModelUnreadable."""
    if size > MOST_BYTES:
        raise ModelUnreadable(
            f"{name}: is larger than {MOST_BYTES:,} bytes; send a part of the building"
        )


def _looks_like(form: str, name: str, content: bytes) -> None:
    head = content[:4096].lstrip(b"\xef\xbb\xbf \r\n\t")
    if form == ".ifc" and not head.startswith(b"ISO-10303-21"):
        raise ModelUnreadable(f"{name}: does not begin as an IFC file does; export it again")
    if form == ".ifc" and b"END-ISO-10303-21" not in content[-4096:]:
        raise ModelUnreadable(f"{name}: ends before its end; it was cut off, send it again")
    if form == ".dxf" and b"SECTION" not in head and not head.startswith(b"AutoCAD Binary DXF"):
        raise ModelUnreadable(f"{name}: does not begin as a DXF file does; export it again")


def _ask(form: str, path: Path, name: str) -> dict[str, Any]:
    child = "inspections.building.child"
    try:
        said = ask_apart(child, form, str(path), name, seconds=SECONDS)
    except TookTooLong:
        raise ModelUnreadable(f"{name}: took longer than {SECONDS} s; send a part of it") from None
    except CameToNothing:
        said = b""
    try:
        told = json.loads(said.splitlines()[-1])
    except (IndexError, ValueError):  # it died: out of memory, or by a fault of the library
        raise ModelUnreadable(f"{name}: cannot be read; it is broken or too large") from None
    if "missing" in told:
        raise ModelUnreadable(
            f"{told['missing']} is not installed; reading {form.upper()} files takes "
            "what requirements-models.txt names"
        )
    if "fault" in told:
        raise ModelUnreadable(f"{name}: cannot be read: {told['fault']}")
    read: dict[str, Any] = told
    return read
